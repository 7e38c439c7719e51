"""`python -m harnessgen`."""

import sys

from harnessgen.cli.main import main

sys.exit(main())
