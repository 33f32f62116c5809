"""Long work: it says how far it is, stops when told, and only the newest goes on."""

import time
from collections.abc import Iterator

import pytest

from carrybook.app.web.jobs import Job, Jobs, StoppedError, Tell
from carrybook.base.errors import BadInputError, NoSolutionError


@pytest.fixture
def jobs() -> Iterator[Jobs]:
    """A worker."""
    jobs = Jobs()
    yield jobs
    jobs.close()


def ended(job: Job) -> Job:
    for _ in range(500):
        if job.done:
            return job
        time.sleep(0.01)
    raise AssertionError("it never ended")


def test_it_gives_what_came_of_it(jobs: Jobs) -> None:
    job = ended(jobs.start(lambda tell: tell("half way", 0.5) or 42))
    assert (job.result, job.share, job.problem) == (42, 1.0, "")
    assert jobs.find(job.key) is job
    assert jobs.find("other") is None


def test_it_says_why_nothing_came_of_it(jobs: Jobs) -> None:
    def work(_: Tell) -> None:
        raise NoSolutionError("none of your shots reaches")

    assert ended(jobs.start(work)).problem == "none of your shots reaches"


def test_it_stops_when_told(jobs: Jobs) -> None:
    def work(tell: Tell) -> None:
        for _ in range(1000):
            tell("on and on", 0.1)
            time.sleep(0.005)

    job = jobs.start(work)
    while job.words != "on and on":
        time.sleep(0.005)
    job.stop.set()
    assert ended(job).problem == "stopped"


def test_a_newer_question_stops_the_older(jobs: Jobs) -> None:
    def work(tell: Tell) -> None:
        for _ in range(1000):
            tell("old", 0.1)
            time.sleep(0.005)

    old = jobs.start(work)
    new = jobs.start(lambda _tell: "new")
    assert ended(old).problem == "stopped"
    assert ended(new).result == "new"


def test_it_forgets_what_was_long_ago(jobs: Jobs) -> None:
    first = jobs.start(lambda _tell: 1)
    for _ in range(30):
        ended(jobs.start(lambda _tell: 1))
    assert jobs.find(first.key) is None


def test_another_kind_of_work_goes_on(jobs: Jobs) -> None:
    def work(tell: Tell) -> str:
        for _ in range(20):
            tell("slowly", 0.1)
            time.sleep(0.005)
        return "learnt"

    slow = jobs.start(work, "learning", about=("book", 1))
    assert ended(jobs.start(lambda _tell: "played")).result == "played"
    assert ended(slow).result == "learnt"
    assert jobs.newest("learning") is slow
    assert slow.about == ("book", 1)
    assert jobs.newest("planning") is None


def test_many_answers_do_not_push_other_work_out(jobs: Jobs) -> None:
    slow = jobs.start(lambda _tell: 1, "learning")
    for _ in range(30):
        ended(jobs.start(lambda _tell: 1))
    assert jobs.find(slow.key) is slow


class Memory:
    """Keeps results as a shelf does."""

    def __init__(self) -> None:
        self.kept: dict[str, tuple[str, object]] = {}
        self.full = False

    def keep_result(self, kind: str, about: str, result: object) -> None:
        """Keep it, unless it is full."""
        if self.full:
            raise BadInputError("no room")
        self.kept[kind] = about, result

    def result(self, kind: str) -> tuple[str, object] | None:
        """What was kept."""
        return self.kept.get(kind)


def test_what_came_of_it_is_there_after_the_server_stopped() -> None:
    memory = Memory()
    first = Jobs(memory)
    ended(first.start(lambda _: 42, "plan", "of saturday"))
    ended(first.start(lambda _: 7, "answer"))
    first.close(1.0)
    again = Jobs(memory)
    job = again.newest("plan")
    assert job is not None
    assert (job.about, job.result, job.done, job.problem) == ("of saturday", 42, True, "")
    assert again.newest("plan") is job
    assert again.newest("answer") is None  # about nothing
    newer = ended(again.start(lambda _: 43, "plan", "of sunday"))
    assert again.newest("plan") is newer
    assert memory.kept["plan"] == ("of sunday", 43)
    again.close()


def test_what_failed_or_has_no_room_is_not_kept() -> None:
    memory = Memory()
    jobs = Jobs(memory)

    def fail(_: Tell) -> None:
        raise NoSolutionError("none of your shots reaches")

    ended(jobs.start(fail, "plan", "of saturday"))
    memory.full = True
    job = ended(jobs.start(lambda _: 42, "plan", "of saturday"))
    assert (job.result, job.problem, memory.kept) == (42, "", {})
    jobs.close()


def test_work_that_gives_what_is_done_is_waited_for_and_kept() -> None:
    memory = Memory()
    jobs = Jobs(memory)

    def work(tell: Tell) -> int:
        for k in range(10_000):
            try:
                tell("on and on", 0.1)
            except StoppedError:
                return k
            time.sleep(0.01)
        return -1

    job = jobs.start(work, "plan", "of saturday")
    while job.words != "on and on":
        time.sleep(0.005)
    jobs.close(20.0)
    about, done = memory.kept["plan"]
    assert about == "of saturday"
    assert isinstance(done, int)
    assert done >= 0
