"""Density of the engine on published irregular strip packing instances, beside a plain bottom-left baseline.

    python tests/bench/lays_packing.py --instances DIR [--seconds 10 60]

DIR holds JSON files: {"name", "width", "total_area", "items": [{"polygon", "demand", "orientations"}]}, length along x
and width along y. A file may give {"published": {"<what>": density in percent}}, printed beside the measured ones.
"""

import argparse
import json
import time
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from shapely import affinity

from pipeline.lays.engine import Engine
from pipeline.lays.proof import overlap_mm
from pipeline.lays.worker import EngineItem


def bottom_left(instance: dict[str, Any]) -> float:
    """Length of a plain bottom-left lay: largest first, each at the leftmost, then lowest free place of a raster."""
    width, step = instance["width"], instance["width"] / 100
    turned = {
        number: [shapely.Polygon(_at_origin(item["polygon"], angle)) for angle in item["orientations"]]
        for number, item in enumerate(instance["items"])
    }
    order = [number for number, item in enumerate(instance["items"]) for _ in range(item["demand"])]
    order.sort(key=lambda number: -turned[number][0].area)
    laid: list[shapely.Polygon] = []
    for number in order:
        best: tuple[float, float, shapely.Polygon] | None = None
        tree = shapely.STRtree(laid)
        for shape in turned[number]:
            x = 0.0
            while best is None or x + shape.bounds[2] < best[0]:
                for y in np.arange(0, width - shape.bounds[3] + 1e-9, step):
                    there = affinity.translate(shape, x, y)
                    near = tree.query(there, predicate="intersects")
                    if all(there.intersection(laid[other]).area < 1e-6 * shape.area for other in near):
                        best = (x + shape.bounds[2], float(y), there)
                        break
                x += step
        assert best is not None
        laid.append(best[2])
    return max(polygon.bounds[2] for polygon in laid)


def _at_origin(polygon: list[list[float]], angle: float) -> list[tuple[float, float]]:
    turned = affinity.rotate(shapely.Polygon(polygon), angle, origin=(0, 0))
    left, top, _, _ = turned.bounds
    return list(affinity.translate(turned, -left, -top).exterior.coords)


def engine_length(instance: dict[str, Any], seconds: int, engine: Engine) -> float:
    """Length of the engine's lay, its outlines verified. The clothing units are scaled so that the width is 1 m."""
    scale = 1000 / instance["width"]
    shapes = [
        np.array(item["polygon"], dtype=float) * scale - np.min(item["polygon"], axis=0) * scale
        for item in instance["items"]
    ]
    items = tuple(
        EngineItem(
            shape=tuple((float(x), float(y)) for x, y in shape),
            demand=item["demand"],
            angles=tuple(item["orientations"]),
        )
        for shape, item in zip(shapes, instance["items"], strict=True)
    )
    placed = [
        affinity.translate(
            affinity.rotate(shapely.Polygon(shapes[place.item]), place.angle_deg, origin=(0, 0)), place.x_mm, place.y_mm
        )
        for place in engine.solve(1000.0, 0.0, items, seconds, 1)
    ]
    assert len(placed) == sum(item["demand"] for item in instance["items"])
    deepest = max((overlap_mm(placed[a], placed[b]) for a, b in _touching(placed)), default=0.0)
    bounds = shapely.total_bounds(placed)
    assert deepest <= 0.05, deepest
    assert -0.05 < bounds[1] < bounds[3] < 1000.05, bounds
    return float(bounds[2] - bounds[0]) / scale


def _touching(polygons: list[shapely.Polygon]) -> list[tuple[int, int]]:
    return [(a, b) for a, b in shapely.STRtree(polygons).query(polygons, predicate="intersects").T if a < b]


def main() -> None:
    """Print a line an instance and engine."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--instances", type=Path, required=True, help="folder of JSON files")
    parser.add_argument("--seconds", type=int, nargs="+", default=[10, 60])
    asked = parser.parse_args()
    with Engine() as engine:
        for file in sorted(asked.instances.glob("*.json")):
            instance = json.loads(file.read_text(encoding="utf-8"))
            area = instance["total_area"] / instance["width"]
            for what, density in instance.get("published", {}).items():
                print(f"{instance['name']:12} {what:28} {density:6.2f} %")
            began = time.monotonic()
            length = bottom_left(instance)
            _tell(instance["name"], "bottom-left", 100 * area / length, time.monotonic() - began)
            for seconds in asked.seconds:
                began = time.monotonic()
                length = engine_length(instance, seconds, engine)
                took = time.monotonic() - began
                _tell(instance["name"], f"engine, {seconds} s", 100 * area / length, took)


def _tell(name: str, what: str, density: float, seconds: float) -> None:
    print(f"{name:12} {what:28} {density:6.2f} %  {seconds:4.0f} s", flush=True)


if __name__ == "__main__":
    main()
