"""Do the tests notice? Each mutant is put into a copy of the running tests, all modules already loaded."""

import ast
import gc
import os
import pickle
import signal
import sys
import tempfile
import time
import types
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import _lru_cache_wrapper, cache
from itertools import accumulate
from pathlib import Path

import coverage
import pytest
from _pytest.runner import runtestprotocol
from hypothesis import HealthCheck, Phase, settings

from tests.mutants.mutant import Mutant, mutants_of

EXAMPLES = int(os.environ.get("EXAMPLES", "15"))
"""Hypothesis examples for each test: fewer find less, and what lives is looked at anyway."""

MOST_SECONDS = float(os.environ.get("SECONDS", "5"))
"""Processor time that one mutant may have: the quickest of the tests that touch it are asked first."""

OURS = ("salebook", "tests")


class Trial:
    """A pytest plugin that, for each mutant, runs the tests that touch its line until one fails."""

    def __init__(self, modules: Sequence[Path]) -> None:
        self._modules = modules

    def pytest_sessionstart(self) -> None:
        """Make Hypothesis quick and the same each time."""
        settings.register_profile(
            "mutants",
            max_examples=EXAMPLES,
            derandomize=True,
            database=None,
            deadline=None,
            phases=[Phase.explicit, Phase.generate],
            suppress_health_check=list(HealthCheck),
        )
        settings.load_profile("mutants")

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Try every mutant of every module."""
        caches, functions = _caches(), _functions([_name_of(module) for module in self._modules])
        gc.freeze()
        times, touched = _sound_run(session.items, self._modules, caches)
        by_id = {item.nodeid: item for item in session.items}
        for module in self._modules:
            _hold_on_the_sound_code(module, session.items, times)
            mutants = mutants_of(module)
            lived = 0
            for mutant in mutants:
                change = _Change(mutant, functions[_name_of(module)], caches)
                asked = _asked(mutant, touched[module], times)
                if not _notice(change.make, [by_id[test] for test in asked], times):
                    lived += 1
                    _say(f"{module}:{mutant.line} {mutant.change}\n  - {mutant.was}\n  + {mutant.now}")
            _say(f"{module}: {len(mutants) - lived} of {len(mutants)} killed")
        return True


def _hold_on_the_sound_code(module: Path, items: Sequence[pytest.Item], times: Mapping[str, float]) -> None:
    """Stop where tests fail with nothing changed: every mutant would seem to be noticed."""
    passing = [item for item in items if item.nodeid in times]
    if _notice(lambda: None, passing, times):
        raise RuntimeError(f"{module}: the tests fail in a copy although nothing was changed")


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def _name_of(module: Path) -> str:
    return ".".join(module.with_suffix("").parts)


def _sound_run(
    items: Sequence[pytest.Item], modules: Sequence[Path], caches: Sequence["_lru_cache_wrapper[object]"]
) -> tuple[dict[str, float], dict[Path, dict[int, list[str]]]]:
    """Run all tests on the sound code: the time of each that passes, and which of them touch which line."""
    with tempfile.NamedTemporaryFile() as answer:

        def run() -> None:
            measured = coverage.Coverage(
                data_file=None, config_file=False, include=[str(module.resolve()) for module in modules]
            )
            times: dict[str, float] = {}
            measured.start()
            for item in items:
                for kept in caches:
                    kept.cache_clear()
                measured.switch_context(item.nodeid)
                start = time.process_time()
                if _passes(item, None):
                    times[item.nodeid] = time.process_time() - start
            measured.stop()
            data = measured.get_data()
            touched = {module: data.contexts_by_lineno(str(module.resolve())) for module in modules}
            Path(answer.name).write_bytes(pickle.dumps((times, touched)))

        if _in_a_copy(run) != 0:
            raise RuntimeError("the tests could not be run on the sound code")
        times, touched = pickle.loads(Path(answer.name).read_bytes())  # noqa: S301 (written a moment ago)
        return times, touched


def _asked(mutant: Mutant, touched: Mapping[int, Sequence[str]], times: Mapping[str, float]) -> list[str]:
    """Return the tests that run the mutant's statement, quick ones first.

    Outside functions these are all that run the module or stand in a file that names it.
    """
    tree = ast.parse(mutant.module.read_text(encoding="utf-8"))
    inside = any(
        node.body[0].lineno <= mutant.line <= (node.end_lineno or 0)
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef)
    )
    lines = _statement(tree, mutant.line) if inside else touched.keys()
    tests = {test for line in lines for test in touched.get(line, ())}
    if not inside:
        tests.update(test for test in times if _name_of(mutant.module) in _text_of(test.partition("::")[0]))
    quick = sorted((test for test in tests if test in times), key=times.__getitem__)
    spent = accumulate(times[test] for test in quick)
    return [test for test, seconds in zip(quick, spent, strict=True) if seconds < MOST_SECONDS]


@cache
def _text_of(file: str) -> str:
    return Path(file).read_text(encoding="utf-8")


def _statement(tree: ast.Module, line: int) -> range:
    simple = (node for node in ast.walk(tree) if isinstance(node, ast.stmt) and not hasattr(node, "body"))
    spans = (range(node.lineno, (node.end_lineno or node.lineno) + 1) for node in simple)
    return next((span for span in spans if line in span), range(line, line + 1))


def _notice(change: Callable[[], None], items: Sequence[pytest.Item], times: Mapping[str, float]) -> bool:
    """Whether one of these tests fails after the change, or does not come to its end."""

    def run() -> None:
        signal.setitimer(signal.ITIMER_PROF, 2 + 3 * sum(times[item.nodeid] for item in items))
        change()
        for item, following in zip(items, (*items[1:], None), strict=True):
            if not _passes(item, following):
                os._exit(1)

    return _in_a_copy(run) != 0


def _passes(item: pytest.Item, following: pytest.Item | None) -> bool:
    return not any(report.failed for report in runtestprotocol(item, nextitem=following, log=False))


def _in_a_copy(run: Callable[[], None]) -> int:
    """Run something in a copy of this process, unheard; 0 where it came to its end."""
    copy = os.fork()
    if copy == 0:
        silence = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silence, 1)
        os.dup2(silence, 2)
        try:
            run()
        except BaseException:
            os._exit(1)
        os._exit(0)
    return os.waitpid(copy, 0)[1]


def _caches() -> list["_lru_cache_wrapper[object]"]:
    found = (thing for thing in gc.get_objects() if isinstance(thing, _lru_cache_wrapper))
    return [kept for kept in found if str(kept.__module__).startswith(OURS)]


def _functions(modules: Sequence[str]) -> dict[str, list[types.FunctionType]]:
    """Return all functions of some modules, methods and those that a decorator has wrapped too."""
    found: dict[str, list[types.FunctionType]] = {module: [] for module in modules}
    for thing in gc.get_objects():
        if isinstance(thing, types.FunctionType) and thing.__module__ in found:
            found[thing.__module__].append(thing)
    return found


class _Change:
    """One mutant put in the place of the sound code, in this process."""

    def __init__(
        self,
        mutant: Mutant,
        functions: Sequence[types.FunctionType],
        caches: Sequence["_lru_cache_wrapper[object]"],
    ) -> None:
        self._mutant, self._functions, self._caches = mutant, functions, caches

    def make(self) -> None:
        """Give every function its changed code and defaults, every constant its changed value."""
        name = _name_of(self._mutant.module)
        code = compile(self._mutant.source, str(self._mutant.module), "exec", dont_inherit=True)
        codes = {(one.co_qualname, one.co_firstlineno): one for one in _codes_in(code)}
        for function in self._functions:
            place = function.__code__.co_qualname, function.__code__.co_firstlineno
            function.__code__ = codes.get(place, function.__code__)
        fresh = types.ModuleType(name)
        exec(code, fresh.__dict__)  # noqa: S102 (our own code, one change in it)
        _follow(sys.modules[name], fresh, name)
        for kept in self._caches:
            kept.cache_clear()


def _codes_in(code: types.CodeType) -> Iterator[types.CodeType]:
    yield code
    for constant in code.co_consts:
        if isinstance(constant, types.CodeType):
            yield from _codes_in(constant)


def _follow(old: object, new: object, module: str) -> None:
    """Give defaults and constants, those of classes too, the values that they have in the changed module."""
    for name, was in list(vars(old).items()):
        now = vars(new).get(name)
        if isinstance(was, types.FunctionType) and isinstance(now, types.FunctionType):
            was.__defaults__, was.__kwdefaults__ = now.__defaults__, now.__kwdefaults__
        elif isinstance(was, type) and isinstance(now, type) and was.__module__ == module:
            _follow(was, now, module)
        elif not name.startswith("__") and name in vars(new) and repr(was) != repr(now):
            _put_everywhere(was, now)
            if isinstance(old, type) and " at 0x" not in repr(now):
                setattr(old, name, now)


def _put_everywhere(was: object, now: object) -> None:
    for module in [module for name, module in sys.modules.items() if name.startswith(OURS)]:
        for name, value in list(vars(module).items()):
            if value is was:
                setattr(module, name, now)
