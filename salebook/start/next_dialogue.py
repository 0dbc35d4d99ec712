"""From a filled-in book to the plan of the next sale: told what was learned, asked what changes."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from salebook.base.words import _
from salebook.forecast.learned.lessons import Lessons
from salebook.plan.tables import Place
from salebook.say.next_year import Lesson, lessons_in_words, not_learned
from salebook.say.time import format_day
from salebook.start.asking import Terminal, ask_all, with_assumed
from salebook.start.dialogue import WRITE, ask_to_write, faults_in
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.next_plan import said_anew, taught, to_ask_again, with_wishes
from salebook.start.next_questions import NextQuestions
from salebook.start.plan_toml import TOP, Remarks, plan_toml
from salebook.start.question import Answer, SoFar


@dataclass(frozen=True, kw_only=True)
class NextSale:
    """What a book taught, and where and when the next sale is planned."""

    lessons: Lessons
    defaults: LocaleDefaults
    """The day on which it is planned; locale and currency are the sale's own."""

    @property
    def questions(self) -> NextQuestions:
        """What is asked."""
        sale = self.lessons.plan.sale
        defaults = replace(self.defaults, locale=sale.locale, currency=sale.currency)
        return NextQuestions(plan=taught(self.lessons), defaults=defaults)

    def told(self) -> Iterator[str]:
        """Say what was learned, what was not, and what holds no longer, line by line."""
        yield from _under(
            _what_it_is_from(self.lessons), (one.says for one in lessons_in_words(self.lessons))
        )
        yield from _under(_("Not learned:"), not_learned(self.lessons))
        yield from _under(_("To ask again:"), (one.says for one in to_ask_again(self.lessons.plan)))
        yield _("All else is carried over as it was; prices of clay, materials and energy are last time's.")

    def text(self, so_far: SoFar) -> str:
        """Return the plan that the answers make, with all that was told as comments."""
        questions = self.questions
        wishes = questions.wishes(so_far)
        plan = with_wishes(questions.plan, wishes)
        lessons = (
            *lessons_in_words(self.lessons),
            *to_ask_again(self.lessons.plan),
            *said_anew(self.lessons.plan, wishes),
            *_assumed(so_far),
        )
        return plan_toml(plan, _remarks(self.lessons, lessons))


def plan_by_asking_anew(sale: NextSale, terminal: Terminal) -> str:
    """Ask what changes, and return the plan; raises EOFError and KeyboardInterrupt as the terminal does."""
    terminal.say(
        _('Now only what changes is asked. Enter takes what is offered; "back" goes back one question.')
    )
    questions = sale.questions
    asked, defaults = questions.all(), questions.defaults
    given: dict[str, Answer] = {}
    again: int | None = None
    while True:
        ask_all(asked, defaults, given, terminal, again=again)
        so_far = SoFar(defaults=defaults, answers=with_assumed(asked, defaults, given))
        text = sale.text(so_far)
        again = ask_to_write(asked, so_far, faults_in(text), terminal)
        if again == WRITE:
            return text


def plan_as_proposed(sale: NextSale) -> str:
    """Return the plan in which all is as proposed."""
    questions = sale.questions
    defaults = questions.defaults
    answers = with_assumed(questions.all(), defaults, {})
    return sale.text(SoFar(defaults=defaults, answers=answers))


def _under(heading: str, lines: Iterable[str]) -> Iterator[str]:
    """Yield lines below their heading; nothing where there are none."""
    said = [f"  {line}" for line in lines]
    yield from (heading, *said, "") if said else ()


def _what_it_is_from(lessons: Lessons) -> str:
    sale = lessons.plan.sale
    says = _("Learned from {title}, {day}:")
    return says.format(title=sale.title, day=format_day(sale.days[0], sale.locale))


def _assumed(so_far: SoFar) -> Iterator[Lesson]:
    if not so_far.answers["days"].known:
        yield Lesson.at("sale", "", "days", _("Assumed: the same weekdays, 52 weeks later."))


def _remarks(lessons: Lessons, said: Iterable[Lesson]) -> Remarks:
    remarks: dict[Place, list[str]] = defaultdict(list)
    remarks[TOP] = [_what_it_is_from(lessons), *not_learned(lessons)]
    for lesson in said:
        remarks[lesson.place].append(lesson.says)
    return remarks
