"""Long work beside the page: it says how far it is, and stops when it is told to."""

import secrets
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from threading import Event, Lock

from carrybook.base.errors import BadInputError, NoSolutionError

__all__ = ["Job", "Jobs", "StoppedError", "Tell"]

Tell = Callable[[str, float], None]

_MOST_REMEMBERED = 20


class StoppedError(Exception):
    """The work was told to stop."""


@dataclass(slots=True)
class Job:
    """One piece of work.

    Parameters
    ----------
    key : str
        By which it is asked for.
    words, share : str, float
        What is being done, and which share of it is done. [1]
    result : object
        What came of it, once `done`.
    problem : str
        Why nothing came of it; empty where something did.
    """

    key: str
    words: str = "waiting"
    share: float = 0.0
    result: object = None
    problem: str = ""
    done: bool = False
    stop: Event = field(default_factory=Event)

    def tell(self, words: str, share: float) -> None:
        """Say how far it is; stops the work here if it was told to."""
        if self.stop.is_set():
            raise StoppedError
        self.words, self.share = words, share


class Jobs:
    """Work that goes on while the page is looked at: one at a time, in order."""

    def __init__(self) -> None:
        self._worker = ThreadPoolExecutor(1, thread_name_prefix="long work")
        self._known: OrderedDict[str, Job] = OrderedDict()
        self._lock = Lock()

    def start(self, work: Callable[[Tell], object]) -> Job:
        """Begin, and stop whatever was going on: only the newest question matters."""
        job = Job(secrets.token_urlsafe(12))
        with self._lock:
            for other in self._known.values():
                other.stop.set()
            self._known[job.key] = job
            while len(self._known) > _MOST_REMEMBERED:
                self._known.popitem(last=False)
        self._worker.submit(_run, job, work)
        return job

    def find(self, key: str) -> Job | None:
        """A piece of work by its key; none where it was long ago."""
        return self._known.get(key)

    def close(self) -> None:
        """Stop everything."""
        for job in list(self._known.values()):
            job.stop.set()
        self._worker.shutdown(wait=False, cancel_futures=True)


def _run(job: Job, work: Callable[[Tell], object]) -> None:
    try:
        job.tell("starting", 0.0)
        job.result = work(job.tell)
        job.share = 1.0
    except StoppedError:
        job.problem = "stopped"
    except (BadInputError, NoSolutionError) as error:
        job.problem = str(error)
    except Exception:
        job.problem = "something went wrong here; the terminal of the server says more"
        raise
    finally:
        job.done = True
