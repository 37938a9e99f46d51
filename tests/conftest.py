"""For every test: one thread for linear algebra, and the same drawn examples in every run.

The matrices are small, and several threads slow them down; a drawn example that fails today must fail tomorrow.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from hypothesis import settings

settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.load_profile("repeatable")
