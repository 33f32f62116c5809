"""A robust regression with pooled coefficients: the one shape that every question here takes.

    y_i = x_i beta + sigma_i e_i,  ln sigma_i = z_i zeta,

e is Student's t with four degrees of freedom; with a small chance a value is something else, a
mishit or a wrong reading, normal and very wide around the line. Coefficients come in groups: a
group is normal around its centre, with a stated or with an unknown standard deviation.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import sparse
from scipy.special import gammaln

from carrybook.base.numerics import Floats, Ints

__all__ = [
    "FREEDOM",
    "ODD_PRIOR",
    "Answer",
    "Group",
    "Matrix",
    "Problem",
    "columns",
    "log_core",
    "part_of",
    "stack",
]

Matrix = sparse.csr_array
FREEDOM = 4.0  # as carrybook.player.robust
ODD_PRIOR = (1.0, 40.0)  # ours: beta prior on the share of odd values; its mean is 2.4 %


@dataclass(frozen=True, slots=True)
class Group:
    """Coefficients that are alike.

    Parameters
    ----------
    name : str
        What they are called.
    size : int
        How many.
    sd : float
        Their standard deviation; of a pooled group the scale of its half-normal prior.
    centre : float
        Their mean before any data.
    pooled : bool
        Whether their standard deviation is learnt too.
    """

    name: str
    size: int
    sd: float
    centre: float = 0.0
    pooled: bool = False


@dataclass(frozen=True, slots=True)
class Problem:
    """Values, what they depend on, and the priors.

    Parameters
    ----------
    values : ndarray, shape (n,)
        What was measured.
    design, scale_design : sparse array, shapes (n, q) and (n, r)
        Columns of the line, and of the logarithm of the scale.
    groups, scale_groups : tuple of Group
        What those columns are, in their order.
    odd_sd : ndarray, shape (n,)
        Standard deviation around the line of a value that is something else.
    kind : ndarray of int, shape (n,)
        Which share of odd values holds for which value.
    """

    values: Floats
    design: Matrix
    groups: tuple[Group, ...]
    scale_design: Matrix
    scale_groups: tuple[Group, ...]
    odd_sd: Floats
    kind: Floats

    @property
    def kinds(self) -> int:
        """How many shares of odd values there are; one, where there are no values at all."""
        return int(self.kind.max()) + 1 if len(self.kind) else 1

    def places(self, *, scale: bool = False) -> dict[str, slice]:
        """Where each group stands among the columns."""
        groups = self.scale_groups if scale else self.groups
        ends = np.cumsum([0, *(g.size for g in groups)])
        return {
            g.name: slice(int(a), int(b)) for g, a, b in zip(groups, ends, ends[1:], strict=False)
        }


@dataclass(frozen=True, slots=True)
class Answer:
    """Draws of everything that was not known.

    Parameters
    ----------
    line : dict of str to ndarray, shape (d, size)
        Coefficients of the line, by group.
    scale : dict of str to ndarray, shape (d, size)
        Coefficients of the logarithm of the scale, by group.
    sds : dict of str to ndarray, shape (d,)
        Standard deviations of pooled groups.
    odd : ndarray, shape (d, kinds)
        Share of odd values.
    """

    line: dict[str, Floats]
    scale: dict[str, Floats]
    sds: dict[str, Floats]
    odd: Floats


def log_core(miss: Floats | float, log_scale: Floats | float) -> Floats:
    """Logarithm of the density of Student's t with four degrees of freedom."""
    nu = FREEDOM
    constant = gammaln((nu + 1.0) / 2.0) - gammaln(nu / 2.0) - 0.5 * np.log(nu * np.pi)
    u2 = (miss * np.exp(-log_scale)) ** 2
    return np.asarray(constant - log_scale - (nu + 1.0) / 2.0 * np.log1p(u2 / nu))


def columns(
    rows: int, parts: Sequence[tuple[Group, Ints, Floats]]
) -> tuple[Matrix, tuple[Group, ...]]:
    """Put a design together.

    Parameters
    ----------
    rows : int
        How many values there are.
    parts : sequence of (Group, ndarray of int, ndarray)
        A group, which of its columns each row touches, and with what; (n,) each, or (n, size) with
        one number for each column. A column of -1 is none.

    Returns
    -------
    design, groups : sparse array, tuple of Group
        Side by side, in the order given.
    """
    blocks = []
    for group, which, what in parts:
        if what.ndim == 2:
            blocks.append(sparse.csr_array(what.reshape(rows, group.size)))
            continue
        on = np.flatnonzero(which >= 0)
        entries = (what[on], (on, which[on].astype(np.int64)))
        blocks.append(sparse.csr_array(entries, shape=(rows, group.size)))
    return sparse.csr_array(sparse.hstack(blocks)), tuple(group for group, *_ in parts)


def stack(problems: dict[str, Problem]) -> Problem:
    """Several problems as one; the names of its groups begin with those of the problems."""

    def named(name: str, groups: tuple[Group, ...]) -> list[Group]:
        return [Group(f"{name}/{g.name}", g.size, g.sd, g.centre, g.pooled) for g in groups]

    each = problems.values()
    return Problem(
        np.concatenate([p.values for p in each]),
        sparse.csr_array(sparse.block_diag([p.design for p in each])),
        tuple(g for name, p in problems.items() for g in named(name, p.groups)),
        sparse.csr_array(sparse.block_diag([p.scale_design for p in each])),
        tuple(g for name, p in problems.items() for g in named(name, p.scale_groups)),
        np.concatenate([p.odd_sd for p in each]),
        np.concatenate([np.full(len(p.values), float(k)) for k, p in enumerate(each)]),
    )


def part_of(answer: Answer, name: str, kind: int) -> Answer:
    """The answer to one of the problems that were stacked."""

    def own(draws: dict[str, Floats]) -> dict[str, Floats]:
        start = f"{name}/"
        return {k.removeprefix(start): v for k, v in draws.items() if k.startswith(start)}

    return Answer(own(answer.line), own(answer.scale), own(answer.sds), answer.odd[:, [kind]])
