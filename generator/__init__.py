"""Gapbook: a car club's wheel and tyre fitment guide, made from its members' records."""

import os

__version__ = "0.1.0"
RELEASED = (2026, 11, 25)
"""The day of this version. No clock can be earlier, so a clock set to 1970 changes nothing."""

# Work is shared among processes, one a processor. The threads of a linear algebra library would
# only wait on each other over products this small, at three times the processor's time. It reads
# these once, when it is loaded, so they are said before anything here can load it.
for _threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "VECLIB_MAXIMUM_THREADS"):
    os.environ.setdefault(_threads, "1")
