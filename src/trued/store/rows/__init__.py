"""What goes into the book and comes out of it: one frozen value a row.

Every time is aware and comes back in UTC. Ids are made by the writer (`ids.new_id`). A row with `supersedes` corrects
an earlier one; a `withdrawn` row takes the earlier one back and puts nothing in its place. Nothing is ever changed.
"""

from trued.store.rows.happened import AnswerRow, EventRow, HistoryRows, MoveRow
from trued.store.rows.job import JobRow, MarkRow, PlanRow
from trued.store.rows.kept import DeviceRow, StateRow
from trued.store.rows.rules import Exact
from trued.store.rows.run import ReadingRow, RunRow, StoredRun
from trued.store.rows.stock import Size, StockChangeRow, StockHeld, StockRow
from trued.store.rows.told import CameRow, StatedRow, Told

__all__ = [
    "AnswerRow",
    "CameRow",
    "DeviceRow",
    "EventRow",
    "Exact",
    "HistoryRows",
    "JobRow",
    "MarkRow",
    "MoveRow",
    "PlanRow",
    "ReadingRow",
    "RunRow",
    "Size",
    "StateRow",
    "StatedRow",
    "StockChangeRow",
    "StockHeld",
    "StockRow",
    "StoredRun",
    "Told",
]
