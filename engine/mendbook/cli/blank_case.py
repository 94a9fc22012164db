"""A case file to fill in, written from the vocabulary: what decides first, the rest behind a #."""

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import NoneType
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from mendbook.terms.case import UNKNOWN, Repair
from mendbook.terms.case_model import case_model
from mendbook.terms.overrule import Overrule
from mendbook.terms.units import Dimension
from mendbook.terms.vocabulary import Vocabulary

COLUMN = 36  # where the comments begin
ROOM = 64  # columns of a comment

# Without these a tyre can hardly be judged; they stand open, in the order in which a person meets them.
FIRST: Mapping[str, Sequence[str]] = {
    "tyre": ("designation", "date code", "casing", "tread left", "tread new"),
    "found": ("valve core", "heat event", "inside inspected", "pressure at removal"),
    "service": ("use", "duty", "position", "speed", "pressure specified"),
    "injuries": (
        "name",
        "side",
        "clock",
        "kind",
        "reaches",
        "zone",
        "distance from bead",
        "length",
        "width",
        "depth",
        "skived",
        "plies damaged",
        "cords cut",
    ),
    "workshop": (),
    "money": (),
}

# What stands for a field that has neither a default nor 'unknown'.
SAMPLES: Mapping[str, str] = {
    "tag": "A-17",
    "tread depths": "[60 mm, 57 mm, 58 mm, 61 mm]",
    "judged on": "2026-11-25",
    "note": "in your words",
    "currency": "EUR",
    "new life": UNKNOWN,
    "mean life": UNKNOWN,
    "retread life": UNKNOWN,
    "retread mean life": UNKNOWN,
    "use a year": UNKNOWN,
    "rule": "sidewall/through_bias",
    "injury": "A",
    "on": "2026-11-25",
}

# What a field means that does not say so itself.
MEANINGS: Mapping[str, str] = {
    "note": "anything else worth knowing",
    "name": "a letter or word that names it on the map",
    "class": "what was done",
    "side": "where it lies",
    "zone": "part of the section",
    "clock": "angle from the valve or serial mark, seen on the serial side",
    "distance from bead": "bead toe to the nearest edge, along the surface",
    "distance from centreline": "crown centreline to the nearest edge, along the surface",
    "state": "how it holds",
}

HEAD = """\
A case for mendbook: one damaged tyre. Fill in the open lines, then: mendbook triage this-file.yaml
People first: core out, nobody in front of the tyre, nobody near one that was hot.

Where nobody looked or measured, leave the line empty or write: unknown
A measure takes its unit, and how far off it may be where you know that:
  48 mm    1 7/8 in    48 ± 2 mm    45 to 60 mm    up to 60 mm
"""
FULL = "A line behind # is left out, and then counts as it stands there. Take the # away to change it.\n"
SHORT = "These are the lines that decide most. See every field with: mendbook new --full\n"


@dataclass(frozen=True)
class Blank:
    """One line of the form."""

    name: str
    means: str
    choices: tuple[str, ...] = ()
    unit: str = ""
    value: str = ""

    @property
    def comment(self) -> list[str]:
        """What stands behind the line: unit and meaning, with the choices below where they do not fit."""
        means = f"[{self.unit}] {self.means}" if self.unit else self.means
        choices = ", ".join(self.choices)
        beside = f"{means}: {choices}" if choices else means
        if not choices or len(beside) <= ROOM:
            return _folded(beside)
        return [*_folded(means), *(f"  {text}" for text in _folded(choices))]


def blank_case(vocabulary: Vocabulary, *, is_full: bool = False) -> str:
    """Return a case file with blanks, YAML. With `is_full` every other field follows, commented out."""
    model = case_model(vocabulary)
    lines = [f"# {text}".rstrip() for text in (HEAD + "\n" + (FULL if is_full else SHORT)).splitlines()]
    lines += ["", *_open(_blank(vocabulary, "", "case", model.model_fields["case"]), "")]
    if is_full:
        for name in ("note", "judged_on"):
            lines += _left_out(_blank(vocabulary, "", name, model.model_fields[name]), "")
    for section in ("tyre", "found", "service"):
        lines += ["", f"{section}:", *_section(vocabulary, section, _model(model, section), "  ", is_full)]
    lines += ["", *_wrapped("injuries:", ["one entry for each; begin each with '- name:', and name it"])]
    injury = _section(vocabulary, "injuries", _model(model, "injuries"), "    ", is_full)
    lines += [f"  - {injury[0].removeprefix('    ')}", *injury[1:]]
    lines += [
        "",
        *_wrapped("earlier repairs:", [f"none, not mapped or {UNKNOWN}; or a list, one entry for each"]),
    ]
    if is_full:
        lines += _entries(vocabulary, Repair, "P1")
        lines += [
            "",
            "# workshop:",
            *_section(vocabulary, "workshop", _model(model, "workshop"), "#   ", is_full),
            "",
            *_wrapped("# money:", ["plain numbers in one currency; with their error where it is known"]),
            *_section(vocabulary, "money", _model(model, "money"), "#   ", is_full),
        ]
        lines += ["", *_wrapped("# overrule:", ["only a reject that rests on the house alone; one entry for each"])]
        lines += _entries(vocabulary, Overrule)
    return "\n".join(lines) + "\n"


def _section(vocabulary: Vocabulary, section: str, model: type[BaseModel], indent: str, is_full: bool) -> list[str]:
    blanks = {blank.name: blank for blank in _blanks(vocabulary, section, model)}
    first = FIRST[section]
    lines = [text for name in first for text in _open(blanks[name], indent)]
    if is_full:
        for name, blank in blanks.items():
            if name not in first:
                lines += _left_out(blank, indent)
    return lines


def _entries(vocabulary: Vocabulary, model: type[BaseModel], sample: str = "") -> list[str]:
    """Return the first entry of a list, each field behind a #."""
    first, *rest = (_blank(vocabulary, "", name, field) for name, field in model.model_fields.items())
    lines = _wrapped(f"#   - {first.name}: {first.value or sample}", first.comment)
    return lines + [text for blank in rest for text in _wrapped(f"#     {blank.name}: {blank.value}", blank.comment)]


def _open(blank: Blank, indent: str) -> list[str]:
    return _wrapped(f"{indent}{blank.name}:", blank.comment)


def _left_out(blank: Blank, indent: str) -> list[str]:
    mark = indent if "#" in indent else f"{indent}# "
    return _wrapped(f"{mark}{blank.name}: {blank.value}", blank.comment)


def _wrapped(field: str, comment: Sequence[str]) -> list[str]:
    first, *rest = comment
    return [f"{f'{field}  ':<{COLUMN}}# {first}", *(f"{'':<{COLUMN}}# {text}" for text in rest)]


def _folded(text: str) -> list[str]:
    return textwrap.wrap(text, ROOM, break_on_hyphens=False)


def _blanks(vocabulary: Vocabulary, section: str, model: type[BaseModel]) -> Iterator[Blank]:
    for name, field in model.model_fields.items():
        yield _blank(vocabulary, section, name, field)


def _blank(vocabulary: Vocabulary, section: str, attribute: str, field: FieldInfo) -> Blank:
    name = field.alias or attribute
    dimension = _dimension(field)
    fact = vocabulary.facts.get(name)
    if fact is not None and fact.section == section:
        value = fact.missing or UNKNOWN
        if fact.missing and dimension:
            value = f"{fact.missing} {dimension.unit}".rstrip()
        return Blank(name, fact.means, fact.values, dimension.unit if dimension else "", value)
    choices = tuple(value for value in _choices(field.annotation) if value != UNKNOWN)
    return Blank(
        name,
        field.description or MEANINGS.get(name, name),
        choices,
        dimension.unit if dimension else "",
        _sample(name, field),
    )


def _sample(name: str, field: FieldInfo) -> str:
    if name in SAMPLES:
        return SAMPLES[name]
    if isinstance(field.default, str) and field.default:
        return field.default
    return UNKNOWN if _dimension(field) else next(iter(_choices(field.annotation)), "")


def _parts(annotation: Any) -> Iterator[Any]:
    yield annotation
    if get_origin(annotation) is not Literal:
        for part in get_args(annotation):
            yield from _parts(part)


def _choices(annotation: Any) -> tuple[str, ...]:
    return tuple(value for part in _parts(annotation) if get_origin(part) is Literal for value in get_args(part))


def _dimension(field: FieldInfo) -> Dimension | None:
    marks = [*field.metadata, *_parts(field.annotation)]
    return next((mark.dimension for mark in marks if isinstance(getattr(mark, "dimension", None), Dimension)), None)


def _model(case: type[BaseModel], section: str) -> type[BaseModel]:
    found = [
        part
        for part in _parts(case.model_fields[section].annotation)
        if isinstance(part, type) and part is not NoneType and issubclass(part, BaseModel)
    ]
    return found[0]
