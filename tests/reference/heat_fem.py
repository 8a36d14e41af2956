# SPDX-License-Identifier: MIT
"""Temperatures of a lumpy ring with a bone in it, by finite elements.

Prints the values that tests/roast/fem_peer_test.cpp holds Evenspit's solver to. Peers, as Debian 12 packages:
python3-sfepy 2021.4 (elements, assembly), python3-gmsh 4.8.4 (tetrahedra between the given triangles; these stay
as they are), python3-scipy 1.10.1 (conjugate gradients). Run by hand:

    /usr/bin/python3 tests/reference/heat_fem.py > tests/reference/heat_fem.txt

The shape, matter and air are those of the test: keep the two alike.
"""
import math

import gmsh
import numpy as np
import scipy.sparse.linalg as linalg
from sfepy.base.base import output
from sfepy.discrete import Equation, Equations, FieldVariable, Integral, Material, Problem
from sfepy.discrete.common.region import Region
from sfepy.discrete.fem import FEDomain, Field, Mesh
from sfepy.terms import Term

RING_M, TUBE_M = 0.055, 0.026
AROUND, ACROSS = 96, 44  # points along the ring and round the tube
BONE_ALONG, BONE_ROUND = 24, 16
FLESH, BONE = (0.48, 3.7e6), (0.25, 2.0e6)  # W/m·K, J/m3·K
HOT, COOL = (25.0, 200.0), (15.0, 60.0)  # W/m2·K, °C, for y > 0 and y < 0
START_C = 5.0
TIMES_S = (1200, 2700, 5400)


def ring_place(u, outward, up):
    """A place beside the ring's middle line."""
    x = (RING_M + outward) * math.cos(u)
    y = (0.8 * RING_M + outward) * math.sin(u)
    return x, y, 0.012 * math.cos(2 * u) + up


def ring():
    """A bent tube that closes on itself, thick where x > 0 and thin where x < 0: it has a hole."""
    points, triangles = [], []
    for i in range(AROUND):
        u = 2 * math.pi * i / AROUND
        tube = TUBE_M + 0.007 * math.cos(u) + 0.002 * math.sin(2 * u)
        for j in range(ACROSS):
            v = 2 * math.pi * j / ACROSS
            points.append(ring_place(u, tube * math.cos(v), tube * math.sin(v)))
            a, b = i * ACROSS + j, (i + 1) % AROUND * ACROSS + j
            c, d = (i + 1) % AROUND * ACROSS + (j + 1) % ACROSS, i * ACROSS + (j + 1) % ACROSS
            triangles += [(a, b, c), (a, c, d)]
    return points, triangles


def bone():
    """A bent rod in the thick part, off the middle."""
    def place(u, v):
        radius = 0.011 * math.sqrt(math.sin(math.pi * v)) if 0 < v < 1 else 0.0
        return ring_place(-1.1 + 2.0 * v, 0.006 + radius * math.cos(u), -0.005 + radius * math.sin(u))

    points = [place(0, 0)]
    for j in range(1, BONE_ALONG):
        points += [place(2 * math.pi * i / BONE_ROUND, j / BONE_ALONG) for i in range(BONE_ROUND)]
    points.append(place(0, 1))
    last = len(points) - 1

    def at(i, j):
        return 1 + (j - 1) * BONE_ROUND + i % BONE_ROUND

    triangles = []
    for i in range(BONE_ROUND):
        triangles.append((0, at(i + 1, 1), at(i, 1)))
        for j in range(1, BONE_ALONG - 1):
            triangles += [(at(i, j), at(i + 1, j), at(i + 1, j + 1)), (at(i, j), at(i + 1, j + 1), at(i, j + 1))]
        triangles.append((last, at(i, BONE_ALONG - 1), at(i + 1, BONE_ALONG - 1)))
    return points, triangles


PROBES = [
    ("thick middle", ring_place(0.0, 0.0, 0.012)),
    ("thick, under the outer skin", ring_place(0.25, 0.027, 0.0)),
    ("thick, hot side", ring_place(0.75, -0.010, 0.010)),
    ("thick, cool side", ring_place(-0.75, -0.012, 0.004)),
    ("beside the hole", ring_place(0.5, -0.026, 0.0)),
    ("bone middle", ring_place(-0.1, 0.006, -0.005)),
    ("bone, hot end", ring_place(0.7, 0.006, -0.005)),
    ("beside the bone", ring_place(-0.4, 0.006, -0.0185)),
    ("hot quarter", ring_place(1.57, 0.0, 0.0)),
    ("cool quarter", ring_place(-1.57, 0.005, 0.005)),
    ("thin middle, hot side", ring_place(2.8, 0.0, 0.0)),
    ("thin, near the skin", ring_place(-2.7, 0.014, 0.003)),
]


def tetrahedra(size_m):
    gmsh.initialize()
    gmsh.option.setNumber("General.Verbosity", 2)
    gmsh.option.setNumber("General.NumThreads", 1)
    model = gmsh.model
    first = 1
    for tag, (points, triangles) in enumerate((ring(), bone()), start=1):
        model.addDiscreteEntity(2, tag)
        nodes = list(range(first, first + len(points)))
        model.mesh.addNodes(2, tag, nodes, [x for p in points for x in p])
        model.mesh.addElementsByType(tag, 2, [], [first + n for t in triangles for n in t])
        first += len(points)
    loops = [model.geo.addSurfaceLoop([tag]) for tag in (1, 2)]
    flesh = model.geo.addVolume([loops[0], loops[1]])
    rod = model.geo.addVolume([loops[1]])
    model.geo.synchronize()
    gmsh.option.setNumber("Mesh.MeshSizeMax", size_m)
    gmsh.option.setNumber("Mesh.Algorithm3D", 10)  # the default one finds no end here
    model.mesh.generate(3)
    tags, coordinates, _ = model.mesh.getNodes()
    row = np.zeros(int(tags.max()) + 1, dtype=np.int32)
    row[tags] = np.arange(len(tags))
    cells, kinds = [], []
    for kind, volume in enumerate((flesh, rod), start=1):
        corners = model.mesh.getElementsByType(4, volume)[1].reshape(-1, 4)
        cells.append(row[corners])
        kinds += [kind] * len(corners)
    places = coordinates.reshape(-1, 3)
    gmsh.finalize()
    return Mesh.from_data("ring", places, None, [np.vstack(cells).astype(np.int32)],
                          [np.array(kinds, dtype=np.int32)], ["3_4"])


def matrix_of(name, terms):
    equations = Equations([Equation(name, sum(terms[1:], terms[0]))])
    problem = Problem(name, equations=equations)
    problem.time_update()
    problem.update_materials()
    matrix = equations.create_matrix_graph()
    return equations.evaluate(mode="weak", dw_mode="matrix", asm_obj=matrix)


def solve(size_m, order, step_s):
    domain = FEDomain("ring", tetrahedra(size_m))
    omega = domain.create_region("Omega", "all")
    inside = [domain.create_region("Flesh", "cells of group 1"), domain.create_region("Bone", "cells of group 2")]
    skin = domain.cmesh.get_surface_facets()
    corners = domain.cmesh.get_conn(2, 0).indices.reshape(-1, 3)[skin]
    middle_y = domain.cmesh.coors[corners].mean(axis=1)[:, 1]
    sides = []
    for name, chosen in (("Hot", middle_y > 0), ("Cool", middle_y < 0)):
        region = Region.from_facets(skin[chosen].astype(np.uint32), domain, name, parent="Omega")
        domain.regions.append(region)
        sides.append(region)
    field = Field.from_args("temperature", np.float64, "scalar", omega, approx_order=order)
    u = FieldVariable("u", "unknown", field)
    v = FieldVariable("v", "test", field, primary_var_name="u")
    rule = Integral("i", order=2 * order)

    def volume_terms(kind, place):
        return [Term.new(f"{kind}(m{n}.c, v, u)", rule, region, v=v, u=u,
                         **{f"m{n}": Material(f"m{n}", c=matter[place])})
                for n, (region, matter) in enumerate(zip(inside, (FLESH, BONE)))]

    def skin_terms():
        return [Term.new(f"dw_surface_dot(h{n}.c, v, u)", rule, region, v=v, u=u,
                         **{f"h{n}": Material(f"h{n}", c=air[0])})
                for n, (region, air) in enumerate(zip(sides, (HOT, COOL)))]

    heat = matrix_of("heat", volume_terms("dw_volume_dot", 1)).tocsr()
    flow = matrix_of("flow", volume_terms("dw_laplace", 0)).tocsr()
    # sfepy lays matrices out by volume terms only: one of zero comes along.
    nothing = Term.new("dw_volume_dot(none.c, v, u)", rule, omega, v=v, u=u, none=Material("none", c=0.0))
    losses = [matrix_of(f"loss{n}", [nothing, term]).tocsr() for n, term in enumerate(skin_terms())]
    ones = np.ones(heat.shape[0])
    areas = [ones @ (loss @ ones) / air[0] for loss, air in zip(losses, (HOT, COOL))]
    capacity = ones @ (heat @ ones)
    source = sum(loss @ (air[1] * ones) for loss, air in zip(losses, (HOT, COOL)))
    stiff = flow + sum(losses)

    probes = np.array([place for _, place in PROBES])
    temperature = START_C * ones
    now, rows, uptake = 0.0, [], []

    def go(t, dt, theta):
        left = heat / dt + theta * stiff
        right = (heat @ t) / dt - (1 - theta) * (stiff @ t) + source
        diagonal = left.diagonal()
        jacobi = linalg.LinearOperator(left.shape, lambda x: x / diagonal)
        out, failed = linalg.cg(left, right, x0=t, tol=1e-10, M=jacobi)
        assert failed == 0
        return out

    # Four short implicit steps take the edge off the start; then Crank and Nicolson's.
    for _ in range(4):
        temperature = go(temperature, step_s / 4, 1.0)
    now = step_s
    while now < TIMES_S[-1] - 1e-6:
        temperature = go(temperature, step_s, 0.5)
        now += step_s
        if any(abs(now - t) < 1e-6 for t in TIMES_S):
            rows.append(field.evaluate_at(probes, temperature.reshape(-1, 1)).ravel())
            uptake.append(ones @ (heat @ (temperature - START_C)))
    return {"unknowns": len(ones), "areas": areas, "capacity": capacity, "rows": rows, "uptake": uptake}


def main():
    output.set_output(quiet=True)
    runs = {}
    for size_m, order, step_s in ((0.006, 1, 15.0), (0.006, 2, 15.0), (0.0035, 2, 15.0), (0.0035, 2, 7.5)):
        best = runs[size_m, order, step_s] = solve(size_m, order, step_s)
    print("# How far coarser elements and longer steps are from what follows: size in m, order, step in s; K; share")
    for run, coarser in runs.items():
        kelvin = np.abs(np.array(coarser["rows"]) - np.array(best["rows"])).max()
        share = np.abs(np.array(coarser["uptake"]) / np.array(best["uptake"]) - 1).max()
        print(f"#   {run}: {kelvin:.3f} {share:.1e} with {coarser['unknowns']} unknowns")
    print("# area of the hot and of the cool side, m2; heat capacity, J/K")
    print(f"{best['areas'][0]:.8f} {best['areas'][1]:.8f} {best['capacity']:.4f}")
    print("# times, s; heat taken up until then, J")
    print(*TIMES_S)
    print(*(f"{joules:.0f}" for joules in best["uptake"]))
    print("# x y z, m; temperatures at those times, °C; where")
    for n, (name, place) in enumerate(PROBES):
        print(*(f"{x:.6f}" for x in place), *(f"{row[n]:.2f}" for row in best["rows"]), "#", name)


main()
