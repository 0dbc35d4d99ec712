"""Answers kept for another time, where somebody stops before the plan is written."""

import json
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from salebook.base.errors import UnfitError
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.question import Answer, SoFar
from salebook.start.questions import QUESTIONS


def answers_file(plan: Path) -> Path:
    """Return the file beside a plan in which its answers are kept until it is written."""
    return plan.with_name(f"{plan.stem}-answers.json")


def answers_text(given: Mapping[str, Answer]) -> str:
    """Write answers such that they can be read again."""
    kept = {key: {"text": answer.words, "known": answer.known} for key, answer in given.items()}
    return json.dumps(kept, ensure_ascii=False, indent=1) + "\n"


def answers_in(text: str, defaults: LocaleDefaults) -> dict[str, Answer]:
    """Read answers; those that fit no question are left out. Raises ValueError where there are none."""
    kept = json.loads(text)
    if not isinstance(kept, dict):
        raise ValueError("no answers")
    answers: dict[str, Answer] = {}
    for question in QUESTIONS:
        so_far = SoFar(defaults=defaults, answers=answers)
        match kept.get(question.key):
            case {"text": str(words), "known": bool(known)}:
                with suppress(UnfitError):
                    answers[question.key] = question.answer(words, so_far, known=known)
    return answers
