"""Answers kept for another time, where somebody stops before the plan is written."""

import json
from collections.abc import Mapping
from pathlib import Path

from salebook.start.question import Answer


def answers_file(plan: Path) -> Path:
    """Return the file beside a plan in which its answers are kept until it is written."""
    return plan.with_name(f"{plan.stem}-answers.json")


def answers_text(given: Mapping[str, Answer]) -> str:
    """Write answers such that they can be read again."""
    kept = {key: {"text": answer.text, "known": answer.known} for key, answer in given.items()}
    return json.dumps(kept, ensure_ascii=False, indent=1) + "\n"


def answers_in(text: str) -> dict[str, Answer]:
    """Read answers; those that fit no question are asked again. Raises ValueError where there are none."""
    kept = json.loads(text)
    if not isinstance(kept, dict):
        raise ValueError("no answers")
    return {
        key: Answer(text=each["text"], known=each.get("known") is True)
        for key, each in kept.items()
        if isinstance(each, dict) and isinstance(each.get("text"), str)
    }
