"""The invented workshop Hollin Reach: real peers with honest physics, in a process of its own.

Nothing here is a measured machine. The truth of the carriage leaves the process on request only, never through an
instrument; the capturing side sees bytes, exactly as from a real detector.
"""

from waywright.simulation.scenario import Scenario, load_scenario, scenario_names
from waywright.simulation.workshop import CarriageTruth, Workshop, WorkshopState

__all__ = ["CarriageTruth", "Scenario", "Workshop", "WorkshopState", "load_scenario", "scenario_names"]
