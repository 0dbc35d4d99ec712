"""`python -m salebook` is the command salebook."""

import sys

from salebook.cli import main

sys.exit(main())
