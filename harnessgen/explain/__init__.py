"""What is known of one thing of a design, with where each number comes from."""
