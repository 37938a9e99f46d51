"""The compare room: one die on its production press and on a stand-in, side by side."""
