"""The remedies, one a file; each module holds one ``REMEDY``."""
