"""What the builder wrote, as one design: every value typed, every value with its place in the file.

`reading` takes the texts of files; `understand` gives back a `Design` whose names all exist and whose values make
sense, or every fault of the file at once. `pages` explains these faults.
Its rooms: `limits` < `records` < `reading` < `checks`.
"""
