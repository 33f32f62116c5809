"""Long work beside the page: it says how far it is, and stops when it is told to."""

import secrets
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from threading import Event, Lock

from carrybook.base.errors import BadInputError, NoSolutionError

__all__ = ["Job", "Jobs", "StoppedError", "Tell"]

Tell = Callable[[str, float], None]

_MOST_REMEMBERED = 20  # of each kind


class StoppedError(Exception):
    """The work was told to stop."""


@dataclass(slots=True)
class Job:
    """One piece of work.

    Parameters
    ----------
    key : str
        By which it is asked for.
    kind : str
        Of work; only the newest of a kind goes on.
    about : hashable
        What was asked, so that a page can tell whether this is its answer.
    words, share : str, float
        What is being done, and which share of it is done. [1]
    result : object
        What came of it, once `done`.
    problem : str
        Why nothing came of it; empty where something did.
    """

    key: str
    kind: str = "answer"
    about: Hashable = None
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
    """Work that goes on while the page is looked at: one of each kind at a time."""

    def __init__(self) -> None:
        self._workers: dict[str, ThreadPoolExecutor] = {}
        self._known: OrderedDict[str, Job] = OrderedDict()
        self._lock = Lock()

    def start(
        self, work: Callable[[Tell], object], kind: str = "answer", about: Hashable = None
    ) -> Job:
        """Begin, and stop older work of that kind: only the newest question matters."""
        job = Job(secrets.token_urlsafe(12), kind, about)
        with self._lock:
            older = [other for other in self._known.values() if other.kind == kind]
            for other in older:
                other.stop.set()
            for other in older[: len(older) + 1 - _MOST_REMEMBERED]:
                del self._known[other.key]
            self._known[job.key] = job
            if kind not in self._workers:
                self._workers[kind] = ThreadPoolExecutor(1, thread_name_prefix=f"{kind} work")
        self._workers[kind].submit(_run, job, work)
        return job

    def find(self, key: str) -> Job | None:
        """A piece of work by its key; none where it was long ago."""
        return self._known.get(key)

    def newest(self, kind: str) -> Job | None:
        """The newest piece of work of a kind; none where there was none yet."""
        with self._lock:
            return next((j for j in reversed(self._known.values()) if j.kind == kind), None)

    def close(self) -> None:
        """Stop everything."""
        for job in list(self._known.values()):
            job.stop.set()
        for worker in self._workers.values():
            worker.shutdown(wait=False, cancel_futures=True)


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
