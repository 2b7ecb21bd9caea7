"""`python -m trued` is the same as `trued`."""

import sys

from trued.cli.main import main

sys.exit(main())
