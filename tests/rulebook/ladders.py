"""A rulebook of another trade, invented and small: may a ladder be used? The machine must not mind."""

from pathlib import Path

from mendbook.rulebook.book import Rulebook, open_book

COVER = """\
edition: first
date: 2026-11-25
owner: nobody
verdicts: [keep, mend, scrap]
stages:
  look: [rails]
  work: [mending]
methods:
  glue: [hot glue, cold glue]
"""

VOCABULARY = """\
facts:
  crack length:
    means: length of the longest crack
    about: injury
    worse when: bigger
    unit: mm
    range: 0 to 900
    written in: rails
    reading error: 2 mm
    reading error if: {cleaned: {'yes': 1 mm}}
    when missing: 0
    decimals: 1
    synonyms: [split length]
  wood left:
    means: wood left beside the crack
    about: injury
    worse when: smaller
    unit: mm
    range: 0 to 100
  damp:
    means: damp of the air
    about: tyre
    worse when: neither
    unit: '%'
    range: 0 to 100
  rot:
    means: how far rot went
    about: injury
    worse when: later
    values: [none, light, deep, through]
    when missing: none
    follows from: rails, probe
  kind:
    means: what it is made of
    about: tyre
    worse when: neither
    values: [ash, spruce, metal]
    synonyms: [material]
  cleaned:
    means: paint taken off
    about: tyre
    worse when: neither
    values: ['yes', 'no']
    changeable: 'yes'
"""

SOURCES = {
    "house.yaml": """\
source: house
title: our own
publisher: nobody
kind: house
known: ours
places: any
""",
    "standard.yaml": """\
source: ladder standard
title: ladders
publisher: nobody
kind: standard
edition: second
known: invented
places:
  table 3: cracks
  clause 5: rot
""",
}

CHART = """\
rule: crack in a rail
asks: Can the crack be mended?
applies to: {kind: [ash, spruce]}
chart:
  - crack length: up to 25 mm
    wood left: at least 10 mm
    verdict: keep
    because: <crack length> is within <limit>.
    source: ladder standard, table 3
  - crack length: up to 60 mm
    rot: up to light
    verdict: mend
    because: <crack length> is within <limit>.
    source: house, cracks
    also: ladder standard, table 3
otherwise:
  verdict: scrap
  because: <crack length> is more than a mend holds.
  source: house, cracks
examples:
  - {kind: ash, crack length: 25 mm, wood left: 10 mm, rot: none, verdict: keep}
  - {kind: ash, crack length: 26 mm, wood left: 10 mm, rot: light, verdict: mend}
  - {kind: ash, crack length: 61 mm, wood left: 10 mm, rot: none, verdict: scrap}
"""

WHEN = """\
rule: rotten rail
asks: Is the rail rotten?
applies to: {kind: ash}
when:
  rot: at least deep
  wood left: below 20 mm
verdict: scrap
because: Rot this deep leaves no sound wood.
source: ladder standard, clause 5
examples:
  - {kind: ash, rot: deep, wood left: 5 mm, verdict: scrap}
"""

WINDOW = """\
rule: glue in damp air
asks: Which glue?
applies to: {}
when:
  damp: at least 40 % and up to 80 %
rule out: [hot glue]
cap: {load: half}
do: [warm the rail]
caution: [gloves]
because: Damp of <damp> keeps the glue from setting.
source: house, glue
examples:
  - {damp: 50 %, says: do}
"""

TABLE = """\
table: load by kind
asks: How much may it carry?
applies to: {cleaned: 'yes'}
down: crack length
across: kind
gives: [load, reach]
unit: kg
source: house, loads
rows:
  up to 20 mm: {'ash, spruce': 90 x 3 kg, metal: 120 x 4 kg}
  all: {'ash, spruce': 60 x 2 kg, metal: 100 x 4 kg}
"""

FILES = {
    "rules/rulebook.yaml": COVER,
    "rules/rails/crack.yaml": CHART,
    "rules/rails/rot.yaml": WHEN,
    "rules/mending/glue.yaml": WINDOW,
    "rules/limits/load.yaml": TABLE,
    "knowledge/vocabulary/all.yaml": VOCABULARY,
    **{f"knowledge/sources/{name}": text for name, text in SOURCES.items()},
}


def write_book(folder: Path, **changed: str | None) -> None:
    """Write the ladder rulebook into `folder`; `changed` gives other texts for files, None for no such file."""
    for place, text in {**FILES, **changed}.items():
        if text is not None:
            (folder / place).parent.mkdir(parents=True, exist_ok=True)
            (folder / place).write_text(text, encoding="utf-8")


def open_ladders(folder: Path) -> Rulebook:
    """Open the rulebook that stands in `folder`."""
    return open_book(folder / "rules", folder / "knowledge")
