"""Cross-checks: what no single entry can show. Each yields objections at places of the file."""

# Registers its checks with those of die and press.
from deflect.casefile.checks import ribs as ribs
