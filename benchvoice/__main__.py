"""`python -m benchvoice`."""

import sys

from benchvoice.cli import main

sys.exit(main())
