"""The rules, one a file; each module holds one ``RULE``."""
