"""Every die of a shop on every press: screened, then solved in full where screening leaves it open.

shop.py reads the files; pair.py makes one row; bodies.py keeps condensed bodies on disk; journal.py holds the rows;
running.py drives processes or a cluster; where.py and export.py ask for rows and write them out; invented.py makes
large shops up.
"""
