"""A die on its production press and on stand-ins: on the terminal, as JSON, as a page."""
