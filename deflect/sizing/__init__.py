"""The sizes of remedies by optimisation: each evaluation solves the condensed bodies anew."""
