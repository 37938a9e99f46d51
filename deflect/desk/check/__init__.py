"""The check room: a die on a press, edited in the case files' own words, and solved as one edits."""
