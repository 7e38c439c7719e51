"""What the network does: currents, temperatures, drops and resistances, each from plain numbers."""
