"""Cross-checks: what no single entry can show. Each yields objections at places of the file."""

from deflect.casefile.checks import blocks as blocks
from deflect.casefile.checks import locating as locating  # its checks join those of die and pair

# Registers its checks with those of die and press.
from deflect.casefile.checks import ribs as ribs

# So does this one.
from deflect.casefile.checks import upper as upper
