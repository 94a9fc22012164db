"""What a repair is worth: the manager's page, its data, and a picture of the levers."""

from pathlib import Path

from mendbook.cli.case_writing import check_target, write_bytes
from mendbook.cli.judging import judge_case
from mendbook.cli.picturing import ENDINGS
from mendbook.cli.refusals import RefusalError
from mendbook.cli.screen import show, write


def print_page(
    case: str,
    picture: Path | None,
    rulebook: Path | None,
    survival: Path | None,
    *,
    law: str | None,
    as_json: bool,
) -> None:
    """Judge the file `case`, print what its repair is worth, and draw `picture` where one is wanted.

    survival : a folder that tells how long the shop's own repairs held
    Raises RefusalError.
    """
    if picture is not None:
        if picture.suffix.lower() not in ENDINGS:
            raise RefusalError(f"{picture}: its name does not say which kind of picture. End it in .svg or .png.")
        check_target(picture, is_forced=True)
    docket = judge_case(case, rulebook, law=law, survival=survival)
    worth = docket.worth
    if worth is None:
        raise RefusalError(
            f"{case}: there is no money in this case. Add 'money:' with currency, new price, new life and repair "
            "price; 'mendbook new --full' shows every line."
        )
    if picture is not None:
        from mendbook.card.worth.picture import draw_levers

        if not worth.levers:
            raise RefusalError(f"{case}: there are no levers to draw. {' '.join(worth.lacking[:1])}".strip())
        write_bytes(draw_levers(docket.case, worth, as_vectors=picture.suffix.lower() == ".svg"), picture)
    if as_json:
        write(worth.model_dump_json(indent=2))
        return
    from mendbook.card.worth import worth_page

    show(lambda width: worth_page(docket, width))
