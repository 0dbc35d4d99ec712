"""A conversation by script: answers for the questions, and what was shown."""

from collections.abc import Mapping
from datetime import date

from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.questions import QUESTIONS

HOME = LocaleDefaults(today=date(2027, 3, 10))

ANSWERS: Mapping[str, str] = {
    "title": "Open shed",
    "maker": "Millrace pots",
    "days": "12 and 13 June 2027",
    "open": "10 to 5",
    "groups": "Village library, Youth choir",
    "parts": "2, 1",
    "target": "£600",
    "piece": "jug",
    "number": "36",
    "price": "£24",
    "clay": "Speckled stoneware",
    "bag": "12.5 kg for £15.40",
    "ball": "1 lb 2 oz",
    "shrinkage": "10 cm becomes 8.8 cm",
    "size": "14 x 11 cm",
    "shelf": "40 x 45 cm",
    "inside": "50 cm",
    "shelves": "4",
    "power": "7.2 kW",
    "biscuit": "1000",
    "glaze": "2264 °F",
    "energy": "0.272",
    "clay_paid": "a sponsor",
    "firing_paid": "me",
    "hall": "£35",
    "hall_paid": "the takings",
    "ways": "cash and card",
    "fee": "1.69 % + 10p",
    "cards": "6",
}
"""What somebody says who knows everything and fires in a kiln of their own, by the key of the question."""


class Talk:
    """Plays the person at the terminal; keeps what was shown."""

    def __init__(self, *lines: str) -> None:
        self.lines = list(lines)
        self.shown: list[str] = []

    def ask(self, prompt: str) -> str:
        """Return the next line of the script; the terminal is closed where there is none left."""
        self.shown.append(prompt)
        if not self.lines:
            raise EOFError
        return self.lines.pop(0)

    def say(self, line: str) -> None:
        """Keep a line that was shown."""
        self.shown.append(line)

    @property
    def text(self) -> str:
        """Everything that was shown."""
        return "\n".join(self.shown)


def script(**other: str) -> list[str]:
    """Return the answers in the order of the questions, some of them others; "-" leaves a question out.

    The last line is the Enter that has the plan written.
    """
    answers = {**ANSWERS, **other}
    lines = [answers[question.key] for question in QUESTIONS if question.key in answers]
    return [*(line for line in lines if line != "-"), ""]
