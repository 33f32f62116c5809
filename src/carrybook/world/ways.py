"""The ways in: a described green, a map, and heights from readings or a raster; one hole out."""

from pathlib import Path

from carrybook.base.errors import BadInputError
from carrybook.world.described_hole import described_hole
from carrybook.world.hole import Hole
from carrybook.world.hole_map import list_holes, read_hole
from carrybook.world.relief import with_heights

__all__ = ["open_hole"]

_DESCRIPTION = ".txt"
_LARGEST = 100_000  # bytes, ours: a description is a page


def open_hole(
    map_path: Path | None = None,
    ref: str | None = None,
    *,
    green: str | None = None,
    heights_path: Path | None = None,
    heights_unit: str = "",
) -> Hole:
    """Open a hole, whichever way it is given.

    Parameters
    ----------
    map_path : Path, optional
        GeoJSON, OpenStreetMap data (`.osm`, `.xml`, `.pbf`), or a description (`.txt`).
    ref : str, optional
        Number of the hole; may be left out where the file has only one.
    green : str, optional
        A description itself, instead of a file.
    heights_path : Path, optional
        Readings (CSV) or a raster (GeoTIFF).
    heights_unit : str
        Unit of the heights of a raster that does not say.

    Returns
    -------
    hole : Hole
        In its own axes.

    Raises
    ------
    BadInputError
        Neither or both of map and description, or anything in them that cannot be used.
    """
    if (map_path is None) == (green is None):
        raise BadInputError(
            "which green? give either a map (--map FILE) or a description (--green '30 deep, 24"
            f" wide'); here {'neither was' if green is None else 'both were'} given"
        )
    if map_path is not None and map_path.suffix.lower() != _DESCRIPTION:
        number = ref if ref is not None else _only_hole(map_path)
        return read_hole(map_path, number, heights_path, heights_unit=heights_unit)
    text = green if map_path is None else _text(map_path)
    hole = described_hole(text or "", map_path.name if map_path else "green")
    if heights_path is None:
        return hole
    return with_heights(hole, heights_path, None, unit=heights_unit)


def _only_hole(path: Path) -> str:
    refs = list_holes(path)
    if len(refs) != 1:
        raise BadInputError(
            f"which hole of {path.name}? add --hole; holes there: {', '.join(refs) or 'none'}"
        )
    return refs[0]


def _text(path: Path) -> str:
    try:
        content = path.read_bytes()
        if len(content) > _LARGEST:
            raise BadInputError(f"{path.name} is too long for a description of a green")
        return content.decode("utf-8-sig")
    except OSError as error:
        raise BadInputError(f"cannot read {path}: {error.strerror}") from None
    except UnicodeDecodeError:
        raise BadInputError(f"{path.name} is not a text file in UTF-8") from None
