"""A second opinion on roofs: random ones as points in space, measured without the rules that the program uses.

Prints a JSON list of cases: each a roof as the program reads it, and what it should measure. Areas seen from above are
shapely's; true areas are half the length of the sum of cross products of the corners in space; lengths are distances in
space. Nothing here knows a slope factor: heights come from intersecting planes.
"""

import json
import random
import sys
from collections import Counter
from itertools import pairwise

import numpy as np
from shapely.geometry import LineString, Polygon
from shapely.ops import linemerge

HOUSE = {
    "stories": 1, "deck": "plywood", "rafter_spacing_in": "24", "overhang_in": "12", "wall_thickness_in": "6",
    "layers": 1, "climate_zone": 4, "vapor_retarder": False, "high_wind": False, "built_before_1978": False,
}

SHARED = {"hip", "valley", "ridge", "transition"}


def plane(through, inward, rise):
    """The height over the plan of a plane that rises `rise` in 12 from a line, in the direction `inward`."""
    through, inward = np.array(through, float), np.array(inward, float)
    return lambda point: float(np.dot(np.array(point, float) - through, inward)) * rise / 12


def section(name, slope, height, corners):
    return {"name": name, "slope": slope, "height": height, "corners": corners}


def gable(rng):
    """Two slopes, as unlike as may be, under one ridge; the back's eave may stand higher than the front's."""
    width, run, back_run = rng.uniform(100, 900), rng.uniform(60, 400), rng.uniform(60, 400)
    front, back = rng.choice(range(10, 200)) / 10, rng.choice(range(10, 200)) / 10
    top = run * front / 12
    low = plane((0, 0), (0, 1), front)
    high = plane((0, run), (0, -1), back)
    cut = rng.uniform(0.2, 0.8) * width
    a, b, mid, end = (0, 0), (width, 0), (width, run), (0, run)
    part, far = (cut, run), run + back_run
    return [
        section("front", front, low, [(a, "eave"), (b, "rake"), (mid, "ridge"), (end, "rake")]),
        # The back in two: each has a part of the front's ridge.
        section("back one", back, lambda p: top + high(p),
                [(end, "ridge"), (part, "rake"), ((cut, far), "eave"), ((0, far), "rake")]),
        section("back two", back, lambda p: top + high(p),
                [(part, "ridge"), (mid, "rake"), ((width, far), "eave"), ((cut, far), "rake")]),
    ]


def hip(rng):
    """Long sides of one slope, ends of others: the hips are not square to anything."""
    depth = rng.uniform(120, 500)
    side, left, right = (rng.choice(range(20, 200)) / 10 for _ in range(3))
    top = depth / 2 * side / 12
    # The ends reach the ridge's height where they have run this far.
    left_run, right_run = top * 12 / left, top * 12 / right
    width = left_run + right_run + rng.uniform(20, 400)
    y = depth / 2
    one, two = (left_run, y), (width - right_run, y)
    a, b, c, d = (0, 0), (width, 0), (width, depth), (0, depth)
    return [
        section("front", side, plane(a, (0, 1), side), [(a, "eave"), (b, "hip"), (two, "ridge"), (one, "hip")]),
        section("right", right, plane(b, (-1, 0), right), [(b, "eave"), (c, "hip"), (two, "hip")]),
        section("back", side, plane(c, (0, -1), side), [(c, "eave"), (d, "hip"), (one, "ridge"), (two, "hip")]),
        section("left", left, plane(d, (1, 0), left), [(d, "eave"), (a, "hip"), (one, "hip")]),
    ]


def ell(rng):
    """A gable with a wing of another slope, whose ridge runs into the front; the right end stands against a wall."""
    run, back = rng.uniform(150, 350), rng.uniform(100, 400)
    main, wing = rng.choice(range(20, 160)) / 10, rng.choice(range(20, 160)) / 10
    # The wing's ridge is lower than the main one.
    half = rng.uniform(0.3, 0.9) * run * main / wing
    reach = half * wing / main
    out, left = rng.uniform(40, 300), rng.uniform(30, 300)
    middle, right = left + half, left + 2 * half
    width = right + rng.uniform(30, 300)
    top = (middle, reach)
    front = plane((0, 0), (0, 1), main)
    behind = run * main / 12
    slope = main
    back_plane = plane((0, run), (0, -1), slope)
    return [
        section("front", main, front, [
            ((0, 0), "eave"), ((left, 0), "valley"), (top, "valley"), ((right, 0), "eave"), ((width, 0), "wall"),
            ((width, run), "ridge"), ((0, run), "rake")]),
        section("back", slope, lambda p: behind + back_plane(p), [
            ((0, run), "ridge"), ((width, run), "wall"), ((width, run + back), "eave"), ((0, run + back), "rake")]),
        section("wing left", wing, plane((left, 0), (1, 0), wing), [
            ((left, 0), "eave"), ((left, -out), "rake"), ((middle, -out), "ridge"), (top, "valley")]),
        section("wing right", wing, plane((right, 0), (-1, 0), wing), [
            ((right, -out), "eave"), ((right, 0), "valley"), (top, "ridge"), ((middle, -out), "rake")]),
    ]


def in_space(part):
    return [np.array([x, y, part["height"]((x, y))]) for (x, y), _ in part["corners"]]


def true_area(points):
    turned = points[1:] + points[:1]
    total = sum((np.cross(a - points[0], b - points[0]) for a, b in zip(points, turned)), np.zeros(3))
    return float(np.linalg.norm(total)) / 2


def lengths(parts):
    """True inches by kind. What two sections share is cut at every corner on it, and each piece is counted once.

    Rakes are each section's own. Where two sections of one plane lie side by side, the line between them is no edge of
    the roof and counts for neither.
    """
    ends = [tuple(p) for part in parts for p in in_space(part)]
    pieces = {}
    for part in parts:
        points = in_space(part)
        for (_, kind), a, b in zip(part["corners"], points, points[1:] + points[:1]):
            way = b - a
            on = []
            for end in ends:
                share = float(np.dot(np.array(end) - a, way) / np.dot(way, way))
                off = np.array(end) - (a + share * way)
                if -1e-9 <= share <= 1 + 1e-9 and np.linalg.norm(off) < 1e-6:
                    on.append(min(max(share, 0.0), 1.0))
            for low, high in pairwise(sorted(on)):
                if high - low < 1e-9:
                    continue
                middle = a + way * (low + high) / 2
                own = None if kind in SHARED else part["name"]
                key = (kind, own, *(round(float(value), 3) + 0.0 for value in middle))
                pieces[key] = float(np.linalg.norm(way)) * (high - low)
    between = Counter(key[2:] for key in pieces if key[0] == "rake")
    total = {}
    for key, length in pieces.items():
        kind = key[0]
        if kind == "rake" and between[key[2:]] > 1:
            continue
        total[kind] = total.get(kind, 0.0) + length
    return total


def attic(plans, kinds, wide=12.0):
    """Square feet within the walls: the plan without what lies so near to its eaves."""
    eaves = []
    for plan, edges in zip(plans, kinds):
        corners = list(plan.exterior.coords)
        eaves += [LineString(pair) for pair, kind in zip(pairwise(corners), edges) if kind == "eave"]
    over = linemerge(eaves) if len(eaves) > 1 else eaves[0]
    strips = over.buffer(wide, cap_style="flat", join_style="mitre", mitre_limit=100)
    return sum(plan.difference(strips).area for plan in plans) / 144


def text(value, places=4):
    return f"{value:.{places}f}"


def case(rng):
    parts = rng.choice([gable, hip, ell])(rng)
    turn, mirror = rng.uniform(0, 2 * np.pi), rng.choice([1, -1])
    away = rng.uniform(-5000, 5000), rng.uniform(-5000, 5000)

    def placed(point):
        x, y = point[0] * mirror, point[1]
        return (x * np.cos(turn) - y * np.sin(turn) + away[0], x * np.sin(turn) + y * np.cos(turn) + away[1])

    sections, wanted, plans, kinds = [], [], [], []
    for part in parts:
        corners = [(placed(point), kind) for point, kind in part["corners"]]
        outline = [{"x_in": text(x), "y_in": text(y), "edge": kind} for (x, y), kind in corners]
        sections.append({"name": part["name"], "slope": text(part["slope"], 1), "outline": outline, "typed": None})
        plan = Polygon([point for point, _ in corners])
        assert plan.is_valid, part
        plans.append(plan)
        kinds.append([kind for _, kind in corners])
        wanted.append({
            "name": part["name"],
            "plan_sqft": text(plan.area / 144),
            "area_sqft": text(true_area(in_space(part)) / 144),
        })
    feet = {kind: text(inches / 12) for kind, inches in lengths(parts).items()}
    roof = {"sections": sections, "features": [], "house": HOUSE}
    return {"roof": roof, "sections": wanted, "lengths_ft": feet, "attic_sqft": text(attic(plans, kinds))}


def main():
    rng = random.Random(int(sys.argv[1]))
    print(json.dumps([case(rng) for _ in range(int(sys.argv[2]))]))


main()
