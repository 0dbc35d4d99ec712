"""The tests, with openpyxl set up as salebook does, whichever of the two a test imports first."""

import salebook.book  # noqa: F401  # sets openpyxl up
