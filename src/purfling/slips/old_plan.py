"""The door for a plan made before (``--from OLD.json``): the answer of a former run, or its results alone."""

from pathlib import Path
from typing import Any

from purfling.craft.refusals import Refusal
from purfling.planning.load import Piece, Plan, Preparation
from purfling.slips.load import Node, read_json


def plan_from(data: Any, name: str) -> Plan:
    """A plan from the JSON answer of a former run.

    Raises
    ------
    Refusal
        It holds no plan (an infeasible answer, another file).
    """
    node = Node(data, name)
    results = Node(node.data.get("results", data), name)
    if not isinstance(results.data.get("operations"), list):
        raise Refusal("plan.no_old_plan", path=name)
    pieces = []
    for number, row in enumerate(results.rows("operations"), 1):
        one = Node(row, f"{name}, operations {number}")
        piece = one.data.get("piece") or 1
        if isinstance(piece, bool) or not isinstance(piece, int):
            raise Refusal("slips.not_a_number", field=one.path("piece"), value=str(piece)[:40], unit="1")
        pieces.append(
            Piece(
                one.need_text("visit"),
                one.need_text("id"),
                piece,
                one.need_text("person"),
                one.need_moment("start"),
                one.need_moment("end"),
            )
        )
    preparations = []
    for number, row in enumerate(results.rows("setups"), 1):
        one = Node(row, f"{name}, setups {number}")
        preparations.append(
            Preparation(one.need_text("family"), one.need_text("person"), one.need_moment("start"))
        )
    return Plan(tuple(pieces), tuple(preparations))


def read_old_plan(path: Path) -> Plan:
    """Read the file of a former run."""
    return plan_from(read_json(path), path.name)
