"""`python -m rigcheck`."""

from __future__ import annotations

import sys

from rigcheck.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
