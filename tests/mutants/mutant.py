"""Small changes to a module, each of which a test should notice."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator

PAIRS = {
    "Binary": "Add_Sub Sub_Add Mul_Div Div_Mul FloorDiv_Mul Mod_Mul Pow_Mul",
    "Comparison": "Lt_LtE Lt_GtE LtE_Lt LtE_Gt Gt_GtE Gt_LtE GtE_Gt GtE_Lt "
    "Eq_NotEq NotEq_Eq Is_IsNot IsNot_Is",
    "Unary": "Delete_USub Delete_Not",
}
OTHERS = (
    "AddNot ReplaceTrueWithFalse ReplaceFalseWithTrue ReplaceAndWithOr ReplaceOrWithAnd "
    "ReplaceBreakWithContinue ReplaceContinueWithBreak NumberReplacer ZeroIterationForLoop"
)
OPERATORS = (
    *(f"core/Replace{kind}Operator_{pair}" for kind, pairs in PAIRS.items() for pair in pairs.split()),
    *(f"core/{name}" for name in OTHERS.split()),
)
"""Of the tool's operators those that leave sense in the code: no bits, one or two for each sign."""

SWAPS = {
    **{"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"},
    **{"up": "down", "down": "up", "abs": "", "sorted": "list", "sum": "max"},
}
"""Names of functions that are easily taken for each other; the tool has no operator for them."""

TEXTS_FOR_PEOPLE = {"_", "marked", "format", "ValueError", "TypeVar"}
"""Calls whose texts are not changed: they are read, not compared."""


@dataclass(frozen=True, kw_only=True)
class Mutant:
    """A module with one change: the line, before and after, and the whole changed source."""

    module: Path
    line: int
    change: str
    was: str
    now: str
    source: str


def mutants_of(module: Path) -> list[Mutant]:
    """Return every mutant of a module, in the order of its lines, those that read alike only once."""
    source = module.read_text(encoding="utf-8")
    tree = ast.parse(source)
    left_alone = set(_lines_left_alone(tree))
    found: dict[str, Mutant] = {}
    for change, line, changed in (*_by_operators(source), *_by_hand(source, tree)):
        mutant = _mutant(module, source, change, changed)
        meaning = _meaning(changed)
        if line not in left_alone and mutant and meaning and not _only_marks_keywords(mutant):
            found.setdefault(meaning, mutant)
    found.pop(ast.dump(tree), None)
    return sorted(found.values(), key=lambda mutant: (mutant.line, mutant.change))


def _meaning(changed: str) -> str | None:
    """Return the code as Python reads it; None where it cannot: a star in a table multiplies nothing."""
    try:
        return ast.dump(ast.parse(changed))
    except SyntaxError:
        return None


def _mutant(module: Path, source: str, change: str, changed: str) -> Mutant | None:
    pairs = enumerate(zip(source.splitlines(), changed.splitlines(), strict=True), start=1)
    differing = next(((line, was, now) for line, (was, now) in pairs if was != now), None)
    if differing is None:
        return None
    line, was, now = differing
    return Mutant(module=module, line=line, change=change, was=was.strip(), now=now.strip(), source=changed)


def _only_marks_keywords(mutant: Mutant) -> bool:
    """Whether the star that keeps arguments to keywords was taken for a multiplication."""
    return mutant.was.replace("*,", "/,", 1) == mutant.now


def _lines_left_alone(tree: ast.Module) -> Iterator[int]:
    """Yield the lines of imports and decorators: style and type checks watch over them."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import | ast.ImportFrom) or (
            isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"
        ):
            yield from range(node.lineno, (node.end_lineno or node.lineno) + 1)
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            for decorator in node.decorator_list:
                yield from range(decorator.lineno, (decorator.end_lineno or decorator.lineno) + 1)


def _by_operators(source: str) -> Iterator[tuple[str, int, str]]:
    parsed = get_ast(source)
    for name in OPERATORS:
        operator = get_operator(name)()
        places = [start for node in ast_nodes(parsed) for start, _end in operator.mutation_positions(node)]
        for occurrence, (line, _column) in enumerate(places):
            yield name.removeprefix("core/"), line, mutate_code(source, operator, occurrence)


def _by_hand(source: str, tree: ast.Module) -> Iterator[tuple[str, int, str]]:
    finder = _Finder(source)
    finder.visit(tree)
    return iter(finder.found)


class _Finder(ast.NodeVisitor):
    """Finds texts, easily swapped functions, and conditions within an expression."""

    def __init__(self, source: str) -> None:
        self.found: list[tuple[str, int, str]] = []
        self._source = source
        self._starts = [0]
        for line in source.splitlines(keepends=True):
            self._starts.append(self._starts[-1] + len(line.encode()))

    def visit_Call(self, node: ast.Call) -> None:
        name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
        if name in TEXTS_FOR_PEOPLE:
            return
        if name in SWAPS:
            self._put("Swap", node.func, self._text(node.func).removesuffix(name) + SWAPS[name])
        self.generic_visit(node)

    def visit_IfExp(self, node: ast.IfExp) -> None:
        self._put("TurnCondition", node.test, f"(not ({self._text(node.test)}))")
        self.generic_visit(node)

    def visit_comprehension(self, node: ast.comprehension) -> None:
        for test in node.ifs:
            self._put("TurnCondition", test, f"(not ({self._text(test)}))")
        self.generic_visit(node)

    def visit_Constant(self, node: ast.Constant) -> None:
        if isinstance(node.value, str) and '"""' not in self._text(node):
            self._put("Text", node, repr(f"XX{node.value}"))

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value:
            self.visit(node.value)

    def visit_Assign(self, node: ast.Assign) -> None:
        if "Literal" not in self._text(node.value) and self._text(node.targets[0]) != "__all__":
            self.visit(node.value)

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        for part in (*node.args.defaults, *filter(None, node.args.kw_defaults), *node.body):
            self.visit(part)

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        """Leave the members of an enum alone: they cannot be put into its place."""
        if not any("Enum" in self._text(base) for base in node.bases):
            for part in node.body:
                self.visit(part)

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        """Leave texts with names in them alone."""

    def visit_Raise(self, node: ast.Raise) -> None:
        """Leave messages alone."""

    def _text(self, node: ast.AST) -> str:
        return ast.get_source_segment(self._source, node) or ""

    def _put(self, change: str, node: ast.expr, text: str) -> None:
        whole = self._source.encode()
        start = self._starts[node.lineno - 1] + node.col_offset
        end = self._starts[(node.end_lineno or node.lineno) - 1] + (node.end_col_offset or 0)
        changed = whole[:start] + text.encode() + whole[end:]
        self.found.append((change, node.lineno, changed.decode()))
