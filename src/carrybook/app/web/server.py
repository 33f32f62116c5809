"""Runs the page: where it listens, and by which names it may be asked."""

import re
import socket
import ssl
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from errno import ENOENT
from pathlib import Path

from carrybook.app.web.door import Door
from carrybook.base.errors import BadInputError

__all__ = ["Certificate", "names_here", "run"]

_HOST = re.compile(r"[a-z0-9]([-a-z0-9]*[a-z0-9])?(\.[a-z0-9]([-a-z0-9]*[a-z0-9])?)*")  # RFC 1123
_USUAL_PORT = {False: 80, True: 443}  # RFC 9110, 4.2: of http, and of https
_NOBODY_ELSE, _EVERYBODY = "127.0.0.1", "0.0.0.0"  # noqa: S104 - only where a person says --share


def names_here(
    port: int, *, shared: bool, also: str | None = None, encrypted: bool = False
) -> tuple[str, ...]:
    """Names with their port: of this machine alone, or also on its network; and one more there.

    The usual port of the protocol is not said, as browsers do not say it.

    Raises
    ------
    BadInputError
        What cannot be a name.
    """
    names = ["127.0.0.1", "localhost"]
    if shared:
        names += _names_on_network() if also is None else [_host(also), *_names_on_network()]
    at = "" if port == _USUAL_PORT[encrypted] else f":{port}"
    return tuple(dict.fromkeys(f"{name}{at}" for name in names))


def _host(text: str) -> str:
    name = text.strip().lower()
    if _HOST.fullmatch(name) is None:
        raise BadInputError(f"name = {text!r} is not that of a machine; write it like laptop.lan")
    return name


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


@dataclass(frozen=True, slots=True)
class Certificate:
    """What makes the connection an encrypted one.

    Attributes
    ----------
    file : Path
        The certificate of this machine's name, those that vouch for it after it: PEM.
    key : Path, optional
        Its key, without a password, where that is not in the same file.

    Raises
    ------
    BadInputError
        Files that cannot be read, or that do not belong together.
    """

    file: Path
    key: Path | None = None

    def __post_init__(self) -> None:
        """Refuse what the server could not use."""
        try:
            ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(
                self.file, self.key, password=lambda: ""
            )
        except OSError as error:  # of which that of ssl is one
            key = "" if self.key is None else f" with key '{self.key}'"
            why = error.strerror if error.filename or error.errno == ENOENT else "not such a pair"
            raise BadInputError(
                f"certificate = '{self.file}'{key} cannot be used ({why}); a PEM file of each is"
                " needed, the key without a password"
            ) from None


def run(
    book: Path | None,
    *,
    port: int,
    names: Sequence[str],
    door: Door | None,
    certificate: Certificate | None = None,
) -> None:
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
            ssl_certfile=None if certificate is None else certificate.file,
            ssl_keyfile=None if certificate is None else certificate.key,
        )
        uvicorn.Server(config).run(sockets=[listening])
