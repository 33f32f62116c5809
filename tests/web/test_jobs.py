"""Long work: it says how far it is, stops when told, and only the newest goes on."""

import time
from collections.abc import Iterator

import pytest

from carrybook.app.web.jobs import Job, Jobs, Tell
from carrybook.base.errors import NoSolutionError


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
