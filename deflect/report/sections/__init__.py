"""Sections of the document, one a file: each has an ORDER, a HEADING and a function ``fragment``."""
