"""What the checks set up with the production mechanics: plates, strips, discs, loads and readings."""
