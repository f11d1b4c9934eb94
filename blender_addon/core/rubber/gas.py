"""Air in rubber and resin under vacuum and pressure: Boyle's law at constant temperature."""

from __future__ import annotations


def growth_under_vacuum(vacuum_kpa: float, air_kpa: float) -> float:
    """Return how many times its volume air takes up under a vacuum.

    Parameters
    ----------
    vacuum_kpa : float
        Under the air outside, as a gauge shows it; less than ``air_kpa``.
    air_kpa : float
        Pressure of the air outside.

    References
    ----------
    .. [1] Boyle: A defence of the doctrine touching the spring and weight of the air, 1662.

    Examples
    --------
    >>> round(growth_under_vacuum(29.0 * 3.386389, 101.325), 2)
    32.48
    """
    return air_kpa / (air_kpa - vacuum_kpa)


def shrunk_bubble(pressure_kpa: float, air_kpa: float) -> float:
    """Return a bubble's diameter under pressure by that in the open; its volume is the cube.

    Parameters
    ----------
    pressure_kpa : float
        Over the air outside.
    air_kpa : float
        Pressure of the air outside.

    Examples
    --------
    >>> round(shrunk_bubble(40.0 * 6.894757, 101.325), 4)
    0.6453
    """
    share: float = (air_kpa / (air_kpa + pressure_kpa)) ** (1.0 / 3.0)
    return share
