"""The doors: services, forms, command line, demo."""

import os

# Matrices here have a hundred columns at most. A second thread of theirs wins nothing, and on a
# busy machine the two wait for each other: learning from 600 balls then took minutes.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
