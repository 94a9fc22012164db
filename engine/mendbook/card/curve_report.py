"""What cure curves tell: the figures of each, t90 against temperature, and the compound to write down."""

import textwrap
from collections.abc import Iterator, Mapping
from math import inf

import yaml
from rich.console import RenderableType

from mendbook.card.layout import STRONG, hanging, heading, labelled, stack, table
from mendbook.card.lettering import line, plain, sentence, short, verbatim
from mendbook.card.printing import WIDEST, column_width
from mendbook.terms.cure_curve import CureCurve, CurveKind, CurveReport, Kinetics
from mendbook.terms.cure_wall import Compound

HEADS = ("Curve", "At", "ML", "MH", "t_s2", "t10", "t50", "t90", "Kind")
SET_IN = 4  # columns, of a text that is to be copied

KINDS: dict[CurveKind, str] = {"plateau": "levels off", "peak": "peaks and falls", "marching": "marches"}


def curve_report(report: CurveReport, width: int = WIDEST) -> RenderableType:
    """Return the report of a batch's cure curves, laid out for `width` columns (40 to 100)."""
    columns = column_width(width)
    kinetics = report.kinetics
    answer = f"t90 {_minutes(kinetics.t90_min)} at {kinetics.reference_C:g} °C, {_energy(kinetics)}."
    return stack(
        labelled([(line("BATCH", STRONG), line(answer, STRONG)), *_warnings(report)], columns, indent=0),
        heading("Curves (torque in dN m, times in min from closing the die)"),
        table(HEADS, (_row(curve) for curve in report.curves), columns),
        labelled(_remarks(report), columns),
        *_entries(report.compound, columns - SET_IN),
        heading("What the figures count"),
        hanging([("-", line(sentence(note))) for note in report.notes]),
    )


def _warnings(report: CurveReport) -> Iterator[tuple[str, RenderableType]]:
    for warning in report.warnings:
        yield "Warning", line(sentence(warning), STRONG)
    for curve in report.curves:
        for warning in curve.warnings:
            yield "Warning", line(f"{short(curve.name)}: {sentence(warning)}", STRONG)


def _row(curve: CureCurve) -> tuple[str, ...]:
    scorch = "-" if curve.scorch_2_min is None else f"{curve.scorch_2_min:.2f}"
    times = (f"{minutes:.2f}" for minutes in (curve.t10_min, curve.t50_min, curve.t90_min))
    torques = (f"{torque:.2f}" for torque in (curve.minimum_dNm, curve.maximum_dNm))
    return short(curve.name), f"{curve.temperature_C:g} °C", *torques, scorch, *times, KINDS[curve.kind]


def _remarks(report: CurveReport) -> Iterator[tuple[str, RenderableType]]:
    for curve in report.curves:
        if curve.scorch_2_min is None:
            early = "neither" if curve.scorch_1_min is None else f"t_s1 is {curve.scorch_1_min:.2f} min and not"
            yield "Scorch", line(f"{short(curve.name)}: the rise is small, so that there is {early} t_s2.")
    for curve in report.curves:
        yield "Reversion", line(f"{short(curve.name)}: {_reversion(curve)}")
    kinetics = report.kinetics
    if kinetics.how == "least squares":
        for curve, off in zip(report.curves, kinetics.residuals, strict=True):
            yield "Off the line", line(f"{short(curve.name)}: t90 {100 * off:+.1f} %.")


def _reversion(curve: CureCurve) -> str:
    followed = f"{curve.ended_min / curve.t90_min:.1f} x t90, where the test ended"
    if curve.fall_share == 0:
        return f"none up to {followed}."
    fall = f"{100 * curve.fall_share:.1f} % of the rise lost at {followed}"
    return f"{fall}." if curve.bears is None else f"5 % of the rise lost at {curve.bears:g} x t90, {fall}."


def _energy(kinetics: Kinetics) -> str:
    energy = f"activation energy {kinetics.activation_kJ_mol:.1f}"
    match kinetics.how:
        case "given":
            return f"{energy} kJ/mol taken, not measured"
        case "two curves":
            return f"{energy} kJ/mol"
        case "least squares":
            return f"{energy} ± {kinetics.activation_error_kJ_mol:.1f} kJ/mol (one standard error)"


def _minutes(minutes: float) -> str:
    return f"{minutes:.3g} min"


def _entries(compound: Compound | None, width: int) -> tuple[RenderableType, ...]:
    if compound is None:
        return ()
    kept = {
        "compound": plain(compound.name),
        "means": "a batch as its own cure curves show it",
        "t90": f"{compound.t90_min:g} min",
        "reference temperature": f"{compound.reference_C:g} °C",
        "activation energy": f"{compound.activation_kJ_mol:g} kJ/mol",
        "face limit": f"{compound.face_limit:g} x t90",
        "basis": plain(compound.basis),
    }
    ordered = {"compound": compound.model_dump(exclude_unset=True)}
    return (
        heading("For knowledge/compounds, as a file of its own"),
        verbatim(_yaml(kept, width)),
        heading("For a layer of a cure order"),
        verbatim(_yaml(ordered, width)),
    )


def _yaml(tree: Mapping[str, object], width: int) -> str:
    """Return `tree` as YAML no wider than `width`: PyYAML's own width is where it begins to look for an end."""
    rows = str(yaml.safe_dump(tree, allow_unicode=True, sort_keys=False, width=inf)).splitlines()
    return "\n".join(
        textwrap.fill(
            row, width, subsequent_indent=f"{' ' * (len(row) - len(row.lstrip()))}  ",
            break_long_words=False, break_on_hyphens=False,
        )
        for row in rows
    )  # fmt: skip
