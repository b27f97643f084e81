"""Counts of valid orders, against published and closed-form numbers of linear extensions."""

from __future__ import annotations

from itertools import product
from math import comb, factorial

import pytest

from sequencer.planning.compiling import compile_network
from sequencer.planning.count import count_orders
from sequencer.planning.masks import Masks
from tests.helpers import assembly, step


def _count(size: int, edges: list[tuple[int, int]]) -> int:
    befores: dict[int, list[int]] = {number: [] for number in range(size)}
    for before, after in edges:
        befores[after].append(before)
    model = assembly(
        *(
            step(f"s{number}", after=" ".join(f"s{other}" for other in others))
            for number, others in befores.items()
        )
    )
    counted = count_orders(Masks(compile_network(model)))
    assert counted.exact
    return counted.count


# Two posets with a published count, in the repository GeomScale/volesti, folder
# examples/count-linear-extensions-using-hpolytope: rows are elements, a 1 in column j says that
# the row's element comes before element j.
BIPARTITE = ("00001010", "00001000", "00001101", "00001010", *("00000000",) * 4)
BAYESIAN = (
    *("00000000", "10000000", "01000000", "00000000"),
    *("00110000", "00001000", "00000000", "00001110"),
)


@pytest.mark.parametrize(("rows", "published"), [(BIPARTITE, 1504), (BAYESIAN, 28)])
def test_published_counts_of_two_posets(rows: tuple[str, ...], published: int) -> None:
    edges = [(a, b) for a, b in product(range(8), repeat=2) if rows[a][b] == "1"]
    assert _count(8, edges) == published


@pytest.mark.parametrize("columns", range(1, 9))
def test_a_grid_of_two_rows_counts_as_catalan(columns: int) -> None:
    # Catalan numbers, OEIS A000108.
    across = [
        (row * columns + at, row * columns + at + 1) for row in (0, 1) for at in range(columns - 1)
    ]
    down = [(at, columns + at) for at in range(columns)]
    assert _count(2 * columns, across + down) == comb(2 * columns, columns) // (columns + 1)


# Euler zigzag numbers, OEIS A000111.
@pytest.mark.parametrize(
    ("size", "zigzag"),
    [(2, 1), (3, 2), (4, 5), (5, 16), (6, 61), (7, 272), (8, 1385), (9, 7936), (10, 50521)],
)
def test_a_zigzag_counts_as_euler(size: int, zigzag: int) -> None:
    edges = [(at, at + 1) if at % 2 == 0 else (at + 1, at) for at in range(size - 1)]
    assert _count(size, edges) == zigzag


@pytest.mark.parametrize("levels", [2, 3, 4])
def test_a_tree_counts_by_the_hook_formula(levels: int) -> None:
    # n! over the product of the sizes of all subtrees: hook length formula for rooted trees;
    # D. E. Knuth, The Art of Computer Programming, volume 3, section 5.1.4 (from memory).
    size = 2**levels - 1
    edges = [((child - 1) // 2, child) for child in range(1, size)]
    hooks = 1
    for node in range(size):
        level = (node + 1).bit_length() - 1
        hooks *= 2 ** (levels - level) - 1
    assert _count(size, edges) == factorial(size) // hooks


@pytest.mark.parametrize(("one", "two"), [(2, 2), (3, 3), (4, 4), (3, 5)])
def test_two_chains_count_as_binomials(one: int, two: int) -> None:
    edges = [(at, at + 1) for at in range(one - 1)]
    edges += [(one + at, one + at + 1) for at in range(two - 1)]
    assert _count(one + two, edges) == comb(one + two, one)


# Assembly line precedence graphs of A. Scholl's data set (1993), as kept in the repository
# Optimization-Algorithms-Book/Code-Listings; the counts were computed beforehand by other code,
# those up to JACKSON by full enumeration with networkx as well.
GRAPHS = {
    "BOWMAN8": (
        8,
        16,
        "1-2 2-3 2-4 3-5 3-6 4-6 5-7 6-8",
    ),
    "JAESCHKE": (
        9,
        24,
        "1-2 1-3 2-4 3-4 4-5 4-6 4-7 5-8 6-9 7-9 8-9",
    ),
    "MERTENS": (
        7,
        45,
        "1-2 1-4 2-3 2-5 4-7 5-6",
    ),
    "MANSOOR": (
        11,
        550,
        "1-4 2-4 2-5 3-11 4-6 5-7 6-8 7-9 8-10 9-10 10-11",
    ),
    "JACKSON": (
        11,
        756,
        "1-2 1-3 1-4 1-5 2-6 3-7 4-7 5-7 6-8 7-9 8-10 9-11 10-11",
    ),
    "MITCHELL": (
        21,
        1449624,
        "1-2 1-3 2-21 3-4 4-5 4-21 5-6 5-7 6-8 7-8 7-14 8-9 9-10 9-11 9-12 9-13 10-15 "
        "11-15 12-15 13-17 13-18 14-19 15-16 15-18 16-17 17-20 18-19",
    ),
    "ROSZIEG": (
        25,
        115722186,
        "1-3 2-3 3-4 4-5 4-8 5-6 6-7 6-10 7-11 7-12 8-9 8-11 9-13 9-10 11-13 12-15 13-14 "
        "14-16 14-19 14-20 15-17 15-22 16-18 17-18 17-23 18-25 19-22 20-21 20-25 21-22 "
        "21-24 23-25",
    ),
    "LUTZ1": (
        32,
        520830000,
        "1-5 2-6 3-9 4-15 5-6 6-7 6-8 6-9 7-21 8-21 9-10 9-11 10-16 11-12 12-13 13-14 "
        "13-15 14-16 14-17 15-17 16-18 17-19 18-21 19-20 20-21 21-22 21-23 21-24 22-25 "
        "23-32 24-32 25-26 26-27 27-28 28-29 29-30 30-31 31-32",
    ),
    "BUXEY": (
        29,
        16125185749540,
        "1-3 1-25 2-6 2-26 3-4 4-5 5-8 5-13 6-8 7-9 7-12 7-25 8-11 8-16 9-10 10-14 10-15 "
        "11-17 12-15 13-17 14-16 15-19 16-18 17-20 18-22 19-21 20-23 21-22 22-23 23-24 "
        "23-28 24-29 25-29 26-27 27-29 28-29",
    ),
    "SAWYER30": (
        30,
        693937597333680,
        "1-4 1-5 2-11 2-12 3-16 3-17 4-7 5-6 6-7 7-8 8-9 9-26 10-24 12-13 13-14 14-15 "
        "14-20 15-22 16-20 17-18 18-19 20-21 20-24 21-22 22-23 23-27 24-25 25-26 26-27 "
        "27-28 27-29 29-30",
    ),
    "GUNTHER": (
        35,
        7594733587996800,
        "1-2 1-5 1-7 1-10 1-12 2-3 3-4 4-11 5-6 6-7 6-8 7-14 7-18 8-9 9-13 10-14 11-28 "
        "11-33 12-18 13-28 13-33 14-15 15-16 16-21 17-20 18-19 19-20 20-21 21-22 21-25 "
        "21-30 21-32 22-23 23-24 24-27 25-26 26-27 27-28 27-33 27-34 28-29 30-31 31-32 "
        "32-33 33-35",
    ),
    "HAHN": (
        53,
        249277198284398592000,
        "1-2 1-3 1-4 1-5 1-6 1-7 2-36 3-36 4-9 5-9 6-9 7-9 8-9 9-10 10-11 11-12 12-13 "
        "12-14 12-15 13-16 13-17 13-18 14-22 15-16 15-17 16-29 16-30 16-31 17-19 18-42 "
        "19-20 19-21 19-22 20-23 21-24 22-25 23-36 24-36 25-26 26-27 27-28 28-29 28-30 "
        "28-31 28-32 28-33 28-34 29-35 30-35 31-35 32-35 33-35 34-35 35-36 36-37 37-38 "
        "37-39 37-40 38-41 39-41 40-41 41-42 42-43 42-44 42-45 42-46 42-47 43-48 44-49 "
        "45-51 45-52 46-50 47-51 47-52 48-51 48-52 49-51 49-52 50-51 50-52 51-53 52-53",
    ),
}


@pytest.mark.parametrize("name", GRAPHS)
def test_counts_of_assembly_line_graphs(name: str) -> None:
    size, count, text = GRAPHS[name]
    pairs = [pair.split("-") for pair in text.split()]
    assert _count(size, [(int(a) - 1, int(b) - 1) for a, b in pairs]) == count
