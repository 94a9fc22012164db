"""An older record brought to the present form."""

from mendbook.record.faults import RecordError
from mendbook.record.ledger import check_form
from mendbook.record.migrations import PRESENT, form_of, migrate
from mendbook.record.places import Place


def migrate_record(given: str) -> tuple[int, int]:
    """Bring the record at `given` to the present form, all of it or nothing; return the forms before and after.

    Raises RecordError when there is none, or it is newer than this program.
    """
    place = Place(given)
    with place.writing() as connection:
        found = form_of(connection)
        if found == 0:
            raise RecordError(f"{place.name}: this database holds no record. There is nothing to bring forward.")
        if found > PRESENT:
            check_form(place.name, found)
        return migrate(connection)
