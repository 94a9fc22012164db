"""The steps of the work as data: which apply, their figures filled in, the rulebook's sentences in their place."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib.resources.abc import Traversable

from mendbook.plan.request import Said
from mendbook.plan.shelf import Item, read_items
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.plan import Step

_BLANK = re.compile(r"<([^<>]+)>")
_KEYS = (
    "do", "when", "instead", "takes", "takes the rest", "hold point", "figures", "caution", "on the tag", "source",
)  # fmt: skip


@dataclass(frozen=True)
class Line:
    """One step before it is filled in.

    when : words that must be among those given, name by name
    instead : a sentence of the rulebook that holds one of these stands in place of `do`
    takes : one that holds one of these is added to it
    takes_rest : those that no line takes stand here, one step each
    on_tag : whoever runs the tyre must know it too
    """

    do: str
    when: tuple[tuple[str, tuple[str, ...]], ...] = ()
    instead: tuple[str, ...] = ()
    takes: tuple[str, ...] = ()
    takes_rest: bool = False
    hold_point: str = ""
    figures: tuple[str, ...] = ()
    caution: str = ""
    basis: str = ""
    on_tag: bool = False

    def applies(self, words: Mapping[str, str]) -> bool:
        """Return whether the step is part of this work."""
        return all(words.get(name) in values for name, values in self.when)

    def claim(self, text: str) -> int | None:
        """Return how early a sentence of the rulebook, in small letters, stands in this step; None when it does not."""
        keys = (*self.instead, *self.takes)
        return next((place for place, key in enumerate(keys) if key in text), None)


Script = tuple[Line, ...]


def read_script(source: Traversable) -> Script:
    """Return the steps in the file `source`. Raises RulebookError or DocumentError with file and line."""
    return tuple(_line(item) for item in read_items(source)[1])


def _line(item: Item) -> Line:
    for key in item.tree:
        if key not in _KEYS:
            raise item.fault(key, f"'{key}' is no part of a step", f"Write one of: {', '.join(_KEYS)}.")
    when = item.tree.get("when", {})
    if not isinstance(when, dict):
        raise item.fault("when", "'when' is no map", "Write 'when: {heat: [hot]}'.")
    conditions = Item(item.document, (*item.path, "when"), when)
    return Line(
        do=item.word("do"),
        when=tuple((name, conditions.words(name)) for name in when),
        instead=tuple(key.casefold() for key in item.words("instead")),
        takes=tuple(key.casefold() for key in item.words("takes")),
        takes_rest=item.word("takes the rest", "no") == "yes",
        hold_point=item.word("hold point", ""),
        figures=item.words("figures"),
        caution=item.word("caution", ""),
        on_tag=item.word("on the tag", "no") == "yes",
        basis=plain_basis(item.word("source")),
    )


def plain_basis(citation: str) -> str:
    """Return a citation as a plan prints it."""
    match citation.partition(",")[0]:
        case "house":
            return "house default"
        case "common practice":
            return "common practice, no source"
        case _:
            return citation


def perform(
    scripts: Iterable[Script],
    words: Mapping[str, str],
    figures: Mapping[str, str],
    do: Sequence[Said] = (),
    cautions: Sequence[Said] = (),
) -> tuple[Step, ...]:
    """Return the steps of `scripts` in order, numbered from 1.

    words : what is being done, for `when`
    figures : what stands in the blanks; a clause with an empty blank is left out
    do, cautions : what the rules said; each sentence stands once, at the first step that claims it
    Raises RulebookError when a blank has a name that is not in `figures`.
    """
    lines = [line for script in scripts for line in script if line.applies(words)]
    told, minded = _placed(lines, do), _placed(lines, cautions)
    steps = [step for place, line in enumerate(lines) for step in _steps(line, told[place], minded[place], figures)]
    return tuple(step.model_copy(update={"number": number}) for number, step in enumerate(steps, 1))


def _placed(lines: Sequence[Line], said: Sequence[Said]) -> list[list[Said]]:
    """Return for each line the sentences that stand there, in the order of the words that claim them."""
    rest = next((place for place, line in enumerate(lines) if line.takes_rest), len(lines) - 1)
    found: list[list[tuple[int, Said]]] = [[] for _ in lines]
    for one in said if lines else ():
        text = one.what.casefold()
        claims = ((place, line.claim(text)) for place, line in enumerate(lines))
        place, order = next(((place, order) for place, order in claims if order is not None), (rest, 0))
        found[place].append((order, one))
    return [[one for _, one in sorted(here, key=lambda placed: placed[0])] for here in found]


def _steps(line: Line, told: Sequence[Said], minded: Sequence[Said], figures: Mapping[str, str]) -> Iterator[Step]:
    if line.takes_rest:
        yield from (Step(number=0, do=said.what, basis=said.source, on_tag=line.on_tag) for said in told)
        yield from (
            Step(number=0, do=line.do, caution=said.what, basis=said.source, on_tag=line.on_tag) for said in minded
        )
        return
    replaced = any(key in said.what.casefold() for said in told for key in line.instead)
    own = [] if replaced else [fill(line.do, figures)]
    cautions = [fill(line.caution, figures)] if line.caution else []
    yield Step(
        number=0,
        do=" ".join([*own, *(said.what for said in told)]),
        hold_point=fill(line.hold_point, figures),
        figures="; ".join(clause for clause in (fill(text, figures) for text in line.figures) if clause),
        caution=" ".join([*cautions, *(said.what for said in minded)]),
        basis="; ".join(dict.fromkeys([line.basis, *(said.source for said in (*told, *minded))])),
        on_tag=line.on_tag,
    )


def fill(text: str, figures: Mapping[str, str]) -> str:
    """Return `text` with its blanks filled; nothing when one of them is empty."""
    blanks = _BLANK.findall(text)
    for name in blanks:
        if name not in figures:
            raise RulebookError(f"knowledge/steps: no figure is called <{name}>. Known: {', '.join(sorted(figures))}.")
    if any(not figures[name] for name in blanks):
        return ""
    return _BLANK.sub(lambda blank: figures[blank[1]], text)
