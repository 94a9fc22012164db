"""Tell what cure curves say of a batch: read the files, work them out, print report or data."""

from collections.abc import Sequence
from pathlib import Path

from mendbook.card.curve_report import curve_report
from mendbook.cli.curve_file import CurveFile, CurveFileError, read_curve
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write
from mendbook.cure.batch import describe
from mendbook.cure.curve import measure
from mendbook.cure.readings import CurveError
from mendbook.terms.cure_curve import CureCurve
from mendbook.terms.document import DocumentError
from mendbook.terms.quantity import Dimension, QuantityError, read_quantity

AT = "@"  # between a file and the temperature of its test


def print_batch(
    given: Sequence[str], at: str | None, compound: str, activation_kJ_mol: float | None, *, as_json: bool
) -> None:
    """Print what the curves in the files `given` say; each may carry '@' and its temperature.

    `at` is the temperature of those that carry none. Raises RefusalError.
    """
    everywhere = None if at is None else _temperature(at, "--at")
    files: dict[str, CurveFile] = {}
    for one in given:
        name, temperature = _split(one)
        with refusing(DocumentError, CurveFileError):
            file = read_curve(name, everywhere if temperature is None else temperature)
        if (twin := files.setdefault(file.readings.digest, file)) is not file:
            raise RefusalError(f"{name}: the same readings stand in {twin.name}. Name each curve once.")
    curves = [_measured(file) for file in files.values()]
    with refusing(ValueError, where="--activation"):
        report = describe(curves, compound, activation_kJ_mol)
    if as_json:
        write(report.model_dump_json(by_alias=True, indent=2))
    else:
        show(lambda width: curve_report(report, width))


def _measured(file: CurveFile) -> CureCurve:
    try:
        return measure(file.readings)
    except CurveError as error:
        raise RefusalError(f"{file.place(error.reading)}: {error}") from error


def _split(given: str) -> tuple[str, float | None]:
    """Return the file in 'file@150 °C' and its temperature [°C]; a file that has an @ in its own name is left whole."""
    name, sign, written = given.rpartition(AT)
    if not sign or Path(given).exists():
        return given, None
    return name, _temperature(written, given)


def _temperature(written: str, where: str) -> float:
    with refusing(QuantityError, where=where):
        read = read_quantity(written, Dimension.TEMPERATURE)
    if read.value is None:
        raise RefusalError(f"{where}: '{written}' is no single temperature. Write one, such as '150 °C'.")
    return read.value
