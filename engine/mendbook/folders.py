"""Where the rulebook and the trade's knowledge are: in the wheel, in a clone, or in a shop's own folder."""

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path


def folder(name: str) -> Traversable:
    """Return the top-level folder `name` (`rules` or `knowledge`).

    Raises FileNotFoundError when neither an installed copy nor a checkout holds it.
    """
    shipped = files("mendbook") / "_shipped" / name
    if shipped.is_dir():
        return shipped
    checkout = Path(__file__).resolve().parents[2]
    if (checkout / "pyproject.toml").is_file() and (checkout / name).is_dir():
        return checkout / name
    raise FileNotFoundError(
        f"the folder '{name}' is missing: neither inside the installed package nor beside engine/. "
        "Install mendbook again, or run it from a complete clone."
    )
