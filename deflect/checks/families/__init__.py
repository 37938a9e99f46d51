"""Families of checks, one a file: ORDER, HEADING and CHECKS; found by scanning this folder."""
