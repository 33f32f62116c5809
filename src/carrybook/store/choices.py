"""What a person said about columns, remembered for the next file with the same header."""

from collections.abc import Mapping

import sqlalchemy as sa

from carrybook.store.book import Session
from carrybook.store.tables import column_choice

__all__ = ["load_choices", "save_choices"]


def load_choices(session: Session, fingerprint: str) -> tuple[dict[str, str], dict[str, str]]:
    """Columns and units, by field, that were given for a header.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    fingerprint : str
        Of the header.

    Returns
    -------
    columns, units : dict of str to str
        Field to header, and field to unit; empty where nothing was given.
    """
    query = sa.select(column_choice).where(column_choice.c.fingerprint == fingerprint)
    rows = session.execute(query).all()
    columns = {row.field: row.column for row in rows if row.column is not None}
    units = {row.field: row.unit for row in rows if row.unit is not None}
    return columns, units


def save_choices(
    session: Session,
    fingerprint: str,
    *,
    columns: Mapping[str, str],
    units: Mapping[str, str],
) -> None:
    """Remember columns and units for a header, in place of those remembered before.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    fingerprint : str
        Of the header.
    columns, units : mapping of str to str
        Field to header, and field to unit.
    """
    session.execute(sa.delete(column_choice).where(column_choice.c.fingerprint == fingerprint))
    rows = [
        {
            "fingerprint": fingerprint,
            "field": field,
            "column": columns.get(field),
            "unit": units.get(field),
        }
        for field in sorted({*columns, *units})
    ]
    if rows:
        session.execute(sa.insert(column_choice), rows)
