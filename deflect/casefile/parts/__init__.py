"""The parts of a case file, one a file: what may be written, and the model value it makes."""
