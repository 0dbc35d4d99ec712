"""What went wrong, in plain words, whatever it was."""

from salebook.base.errors import SalebookError, error_text
from salebook.base.words import _

TRACE = "SALEBOOK_TRACE"
"""Where the environment has it, the traceback of what nobody foresaw is shown."""


def trouble_text(trouble: Exception) -> str:
    """Say what went wrong to a person."""
    match trouble:
        case SalebookError():
            return str(trouble)
        case OSError():
            says = error_text(trouble)
            return f"{trouble.filename}: {says}" if trouble.filename else says
    text = _(
        "salebook met something that nobody foresaw ({what}: {says}). "
        "Please report it, with the file and what {trace}=1 makes it print."
    )
    return text.format(what=type(trouble).__name__, says=trouble, trace=TRACE)
