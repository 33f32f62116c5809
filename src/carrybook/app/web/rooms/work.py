"""Long work of a room: how far it is, whether it is about what is asked now, and how to stop it."""

from dataclasses import dataclass

from carrybook.app.web.asked import Asked
from carrybook.app.web.jobs import Job

__all__ = ["Work", "job_about", "stop_work", "work_shown"]


@dataclass(frozen=True, slots=True)
class Work:
    """What goes on, which share of it is done [1], and whether it was told to stop."""

    words: str
    share: float
    stopping: bool


def job_about(asked: Asked, kind: str, about: str) -> Job | None:
    """The newest work of a kind, where it is about this very question."""
    job = asked.desk.jobs.newest(kind)
    return job if job is not None and job.about == about else None


def work_shown(job: Job | None) -> Work | None:
    """How far it is; none where nothing goes on."""
    if job is None or job.done:
        return None
    words = "stopping as soon as it can" if job.stop.is_set() else job.words
    return Work(words, job.share, job.stop.is_set())


def stop_work(asked: Asked, kind: str) -> None:
    """Tell the newest work of a kind to stop."""
    job = asked.desk.jobs.newest(kind)
    if job is not None:
        job.stop.set()
