"""A batch of rubber from its cure curves: kinetics, the compound for a cure order, and what to know about both."""

from collections.abc import Sequence
from math import floor
from pathlib import PurePath

from pydantic import TypeAdapter, ValidationError

from mendbook.cure.arrhenius import THERMOMETER, fit
from mendbook.cure.curve import REVERTED, WARM_UP
from mendbook.cure.readings import fault_words
from mendbook.cure.words import USUAL_ACTIVATION
from mendbook.terms.cure_curve import CureCurve, CurveReport, Kinetics
from mendbook.terms.cure_figures import Activation
from mendbook.terms.cure_wall import Compound

ACTIVATION = 90.0  # kJ/mol, from memory
USUAL_LIMIT = float(Compound.model_fields["face_limit"].default)  # multiples of t90
UNSURE = 10.0  # kJ/mol
OFF_THE_LINE = 0.1  # of t90
STEP = 10.0  # K, in which a temperature coefficient is said


def describe(curves: Sequence[CureCurve], name: str, activation_kJ_mol: float | None = None) -> CurveReport:
    """Return what `curves` of one batch tell, and its compound, called `name`.

    `activation_kJ_mol` is taken when all curves are of one temperature; 90 when it is None. Raises ValueError when
    there is no curve, or when it lies outside 20 to 250.
    """
    assumed = ACTIVATION if activation_kJ_mol is None else activation_kJ_mol
    try:
        TypeAdapter(Activation).validate_python(assumed)
    except ValidationError as error:
        raise ValueError(fault_words(error)) from None
    kinetics = fit([(curve.temperature_C, curve.t90_min) for curve in curves], assumed)
    warnings = _warnings(curves, kinetics)
    compound = None
    try:
        compound = Compound(
            name=name,
            t90_min=float(f"{kinetics.t90_min:.4g}"),
            reference_C=kinetics.reference_C,
            activation_kJ_mol=round(kinetics.activation_kJ_mol, 1),
            face_limit=_face_limit(curves),
            basis=_basis(curves, kinetics, is_assumed=activation_kJ_mol is None),
        )
    except ValidationError as error:
        fault = fault_words(error)
        warnings.append(f"No compound can be made of this: {fault}")
    return CurveReport(
        curves=tuple(curves),
        kinetics=kinetics,
        compound=compound,
        warnings=tuple(warnings),
        notes=_notes(curves, kinetics),
    )


def _face_limit(curves: Sequence[CureCurve]) -> float:
    """Return the usual limit, or less where a curve shows reversion sooner [multiples of t90]."""
    return min([USUAL_LIMIT, *(floor(10 * curve.bears) / 10 for curve in curves if curve.bears is not None)])


def _basis(curves: Sequence[CureCurve], kinetics: Kinetics, *, is_assumed: bool) -> str:
    files = ", ".join(map(_file, curves))
    match kinetics.how:
        case "given":
            energy = f"activation energy {'assumed, from memory' if is_assumed else 'as given, not from these curves'}"
        case "two curves":
            energy = "activation energy from these two"
        case "least squares":
            energy = f"activation energy by least squares, standard error {kinetics.activation_error_kJ_mol:.2g} kJ/mol"
    limit = "face limit from memory"
    if _face_limit(curves) < USUAL_LIMIT:
        limit = f"face limit where a curve has lost {100 * REVERTED:g} % (house default)"
    return f"cure curves {files}; t90 by the definition of ISO 6502; {energy}; {limit}"


def _file(curve: CureCurve) -> str:
    digest = f", sha256 {curve.digest[:12]}" if curve.digest else ""
    return f"{PurePath(curve.name).name} ({curve.temperature_C:g} °C{digest})"


def _warnings(curves: Sequence[CureCurve], kinetics: Kinetics) -> list[str]:
    said = []
    energy, unsure = kinetics.activation_kJ_mol, kinetics.thermometer_error_kJ_mol
    low, high = USUAL_ACTIVATION
    if energy <= 0:
        said.append(
            f"The activation energy comes out as {energy:.1f} kJ/mol: by these curves the batch cures no faster when "
            "hotter. Check which curve is of which temperature."
        )
    elif not low <= energy <= high:
        said.append(
            f"The activation energy of {energy:.1f} kJ/mol is outside the usual {low:g} to {high:g} (from memory). "
            "Published values lie outside too, so it is taken as it is. Check temperatures, and test at a third."
        )
    if kinetics.how == "given":
        said.append(
            f"All curves are of one temperature, so that the activation energy of {energy:g} kJ/mol is not measured. "
            f"Test at a second, {STEP:g} °C or more away, nearer to that of the cure."
        )
    if unsure is not None and unsure > UNSURE:
        said.append(
            f"The temperatures lie close: {THERMOMETER:g} °C of error in each test makes {unsure:.0f} kJ/mol. "
            "Test further apart."
        )
    said += [
        f"The t90 of {curve.name} lies {100 * off:+.0f} % off the line through all curves. Look at that test again."
        for curve, off in zip(curves, kinetics.residuals, strict=True)
        if abs(off) > OFF_THE_LINE
    ]
    said += [
        f"By {curve.name} the batch has lost {100 * REVERTED:g} % of its rise at {curve.bears:g} x t90 and "
        f"{curve.temperature_C:g} °C, before the usual limit of {USUAL_LIMIT:g}. The face limit is set by it. Rubber "
        "reverts later when cooler, so a curve at the setpoint of the pads may allow more."
        for curve in curves
        if curve.bears is not None and curve.bears < USUAL_LIMIT
    ]
    return said


def _notes(curves: Sequence[CureCurve], kinetics: Kinetics) -> tuple[str, ...]:
    said = [
        "ML, MH, t_s and t90 are as ISO 6502 defines them (from memory). Where readings scatter they are taken from a "
        "curve laid through all of them; where they do not, from the readings themselves.",
        "Times run from closing the die. The 0.5 to 1 min in which the sample warms up (from memory) are in them, so "
        "that t90 is rather too long.",
    ]
    if kinetics.how != "given" and all(curve.t90_min > 2 * WARM_UP for curve in curves):
        without = fit([(curve.temperature_C, curve.t90_min - WARM_UP) for curve in curves], ACTIVATION)
        said.append(
            f"With {WARM_UP:g} min taken off each t90 for that, the activation energy would be "
            f"{without.activation_kJ_mol:.1f} kJ/mol."
        )
    if kinetics.how == "two curves":
        said.append("Two curves give the line exactly and say nothing of its error. A third would.")
    if (unsure := kinetics.thermometer_error_kJ_mol) is not None and unsure <= UNSURE:
        said.append(
            f"{THERMOMETER:g} °C of error in each test (what ISO 6502 allows, from memory) makes {unsure:.1f} kJ/mol."
        )
    said.append(
        "Multiples of t90 are not the state of cure: the end of cure and reversion follow temperature in their own "
        "way. Take the curves of the very batch that is used, as old as it is when it is used."
    )
    return tuple(said)
