"""The cautions, one a file; each module holds one ``CAUTION``, and each always says something."""
