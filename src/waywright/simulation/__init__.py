"""The invented workshop Hollin Reach: real peers with honest physics, in a process of its own.

Nothing here is a measured machine. The truth of the carriage leaves the process on request only, never through an
instrument; the capturing side sees bytes, exactly as from a real detector.
"""

from waywright.simulation.command import run_simulate
from waywright.simulation.further_peers import FURTHER, PLAIN, check_further
from waywright.simulation.protocol import WorkshopState
from waywright.simulation.scenario import Scenario, load_scenario, scenario_names
from waywright.simulation.workshop import CarriageTruth, Workshop

__all__ = [
    "FURTHER",
    "PLAIN",
    "CarriageTruth",
    "Scenario",
    "Workshop",
    "WorkshopState",
    "check_further",
    "load_scenario",
    "run_simulate",
    "scenario_names",
]
