"""One thread for linear algebra in every test: the matrices are small, and several threads slow them down."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
