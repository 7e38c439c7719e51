"""What all tests share: the library of linear algebra on one thread, as the command line has it."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
