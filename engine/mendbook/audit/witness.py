"""A concrete case, written as a shop writes it, from the values that a solver gave to everything a case can say."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta

import yaml

from mendbook.audit.written import JUDGED_ON
from mendbook.proof.symbols import Plain
from mendbook.terms.case import Case
from mendbook.terms.case_file import check_case
from mendbook.terms.date_code import DAYS_A_YEAR, week_days
from mendbook.terms.document import Tree, parse_document
from mendbook.terms.vocabulary import Fact, Subject, Vocabulary
from mendbook.triage.judgement import LAWS_BY_COUNTRY

NAME = "A"
WRITTEN_UNITS = ("mm", "bar", "°C", "h", "km/h", "%", "deg", "cm2", "Shore A")


@dataclass(frozen=True)
class Witness:
    """A case as a tree to be written, the road law to judge it by, and the facts that differ from an ordinary tyre."""

    case: Mapping[str, Tree]
    law: str
    unusual: tuple[str, ...]


def read_witness(witness: Witness, vocabulary: Vocabulary) -> Case:
    """Return the case of `witness`, read as a file would be. Raises CaseError."""
    return check_case(parse_document(spell_witness(witness), "case.yaml"), vocabulary)


def spell_witness(witness: Witness) -> str:
    """Return the case of `witness` as the text of a case file."""
    return yaml.safe_dump(dict(witness.case), sort_keys=False, allow_unicode=True)


def write_witness(values: Mapping[str, Plain], vocabulary: Vocabulary, unusual: tuple[str, ...]) -> Witness:
    """Return the case that says `values`."""
    tree: dict[str, Tree] = {
        "case": "a case that a proof of the rulebook found",
        "note": "Invented: made by the proof, no tyre of anybody's.",
        "judged on": JUDGED_ON.isoformat(),
    }
    sections: dict[str, dict[str, Tree]] = {"tyre": {}, "service": {}, "found": {}, "workshop": {}}
    injury: dict[str, Tree] = {"name": NAME}
    for fact in vocabulary.given():
        value = values[fact.name]
        if _is_left_out(fact, values) or (fact.missing is not None and _same(fact, value)):
            continue
        part = injury if fact.subject is Subject.INJURY else sections[fact.section]
        part[fact.name] = _spell(fact, value)
    _write_identity(values, sections["tyre"])
    if values["law"] in LAWS_BY_COUNTRY:
        sections["service"]["country"] = str(values["law"])
    tree |= {name: part for name, part in sections.items() if part}
    tree["earlier repairs"] = _earlier(values)
    tree["injuries"] = [injury]
    return Witness(tree, str(values["law"]), unusual)


def _same(fact: Fact, value: Plain) -> bool:
    missing = fact.missing if fact.is_listed or fact.missing is None else float(fact.missing)
    return value == missing


def _is_left_out(fact: Fact, values: Mapping[str, Plain]) -> bool:
    """Return whether the case tells this fact in another way, or not at all."""
    told: Mapping[str, bool] = {
        "tread left": values["tread readings"] != 0.0,
        "plies": values["ply count"] == "unknown",
        "pressure at removal": values["pressure record"] == "unknown",
        "cords cut": values["cords are counted"] == "no",
        "depth": values["depth is known"] == "no",
        "distance from bead": values["placed from"] != "bead",
        "distance from centreline": values["placed from"] != "centreline",
        "zone": values["placed from"] != "zone",
    }
    return told.get(fact.name, False)


def _spell(fact: Fact, value: Plain) -> str:
    if isinstance(value, str):
        return value
    unit = "" if fact.unit not in WRITTEN_UNITS else f" {fact.unit}"
    return f"{_digits(value or 0.0)}{unit}"


def _digits(value: float) -> str:
    return f"{value:.6f}".rstrip("0").rstrip(".")


def _write_identity(values: Mapping[str, Plain], tyre: dict[str, Tree]) -> None:
    if values["size"] == "read":
        tyre["designation"] = str(values["designation"])
    if values["load index"] is not None:
        tyre["load index"] = str(values["load index"])
    if values["serial"] == "read":
        tyre["date code"] = _date_code(values["casing age"])
    if values["retreaded"] == "yes":
        tyre["retread date code"] = _date_code(values["retread age"])
    readings = int(float(values["tread readings"] or 0.0))
    if readings:
        least, spread = float(values["tread left"] or 0.0), float(values["tread depth spread"] or 0.0)
        depths = [least] * (readings - 1) + [least + spread]
        tyre["tread depths"] = [f"{_digits(depth)} mm" for depth in depths]


def _date_code(age: Plain) -> str:
    """Return the code of the week that began `age` years before the day of judgement."""
    began = JUDGED_ON - timedelta(days=round(float(age or 0.0) * DAYS_A_YEAR))
    for year in (began.year, began.year - 1):
        week = (began - week_days(year, 1)[0]).days // 7 + 1
        if week >= 1:
            return f"{week:02d}{year % 100:02d}"
    raise ValueError(f"no week began {age} years ago")


def _earlier(values: Mapping[str, Plain]) -> Tree:
    match values["earlier repairs"]:
        case "mapped":
            state = "loose" if values["earlier repair loose"] == "yes" else "sound"
            return [{"name": "R", "class": "dress", "side": "crown", "state": state}]
        case "present but not mapped":
            return "not mapped"
    return "none"
