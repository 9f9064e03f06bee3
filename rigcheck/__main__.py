"""`python -m rigcheck`."""

from __future__ import annotations

import sys

from rigcheck.cli.entry import start

if __name__ == "__main__":
    sys.exit(start())
