"""Runs the page: where it listens, and by which names it may be asked."""

import socket
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from carrybook.app.web.door import Door
from carrybook.base.errors import BadInputError

__all__ = ["names_here", "run"]

_NOBODY_ELSE, _EVERYBODY = "127.0.0.1", "0.0.0.0"  # noqa: S104 - only where a person says --share


def names_here(port: int, *, shared: bool) -> tuple[str, ...]:
    """Names with their port: of this machine alone, or also on its network."""
    names = [f"127.0.0.1:{port}", f"localhost:{port}"]
    if shared:
        names += [f"{name}:{port}" for name in _names_on_network()]
    return tuple(dict.fromkeys(names))


def _names_on_network() -> list[str]:
    """Addresses and name of this machine on its network."""
    host = socket.gethostname().lower()
    names = []
    with suppress(OSError):
        found = socket.getaddrinfo(host, None, socket.AF_INET, socket.SOCK_STREAM)
        names += [str(each[4][0]) for each in found]
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(("192.0.2.1", 9))  # RFC 5737: an address of nobody; nothing is sent
        names.append(str(probe.getsockname()[0]))
    return [*(n for n in names if not n.startswith("127.")), host, f"{host}.local"]


def run(book: Path | None, *, port: int, names: Sequence[str], door: Door | None) -> None:
    """Serve until somebody stops it.

    Raises
    ------
    BadInputError
        The port is taken, or the folder beside the book cannot be written.
    """
    import uvicorn

    from carrybook.app.web.app import build_app

    app = build_app(book, hosts=names, door=door)
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((_NOBODY_ELSE if door is None else _EVERYBODY, port))
        except OSError as error:
            raise BadInputError(
                f"port = {port} cannot be used: {error.strerror}; name another, like --port 8418"
            ) from None
        config = uvicorn.Config(
            app,
            log_level="warning",
            access_log=False,
            server_header=False,
            proxy_headers=False,
            timeout_keep_alive=20,
            limit_concurrency=64,
            h11_max_incomplete_event_size=32 * 1024,
        )
        uvicorn.Server(config).run(sockets=[listening])
