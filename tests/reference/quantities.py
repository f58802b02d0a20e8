"""Quantities as text, such as "36 µm", turned into SI. Only the units that the reference scenarios use."""

import math
import re

UNITS = {
    '%': 1e-2,
    # lengths
    'm': 1.0, 'mm': 1e-3, 'µm': 1e-6,
    # times, speeds, accelerations
    's': 1.0, 'ms': 1e-3, 'm/s': 1.0, 'm/min': 1 / 60, 'm/s^2': 1.0,
    # angles, angular speeds
    'deg': math.pi / 180, 'rad': 1.0, 'rad/s': 1.0,
    # mass, inertia, density
    'kg': 1.0, 'kg m^2': 1.0, 'kg/m^3': 1.0,
    # forces, torques, moduli
    'N': 1.0, 'N m': 1.0, 'N m s': 1.0, 'N/m': 1.0, 'N s/m': 1.0, 'Pa': 1.0, 'MPa': 1e6, 'GPa': 1e9,
    # gains of a position trim
    '1/s': 1.0, '1/s^2': 1.0, '1/m': 1.0, '1/(m s)': 1.0,
}

PATTERN = re.compile(r'^\s*([-+]?\d+(?:\.\d*)?(?:[eE][-+]?\d+)?)\s*(\S.*?)\s*$')


def si(text):
    """The SI value of a text such as "0.2 N m"; a bare number passes through."""
    if isinstance(text, (int, float)):
        return float(text)
    match = PATTERN.match(text)
    if match is None or match.group(2) not in UNITS:
        raise ValueError(f'found "{text}", expected a number with one of the units {", ".join(UNITS)}')
    return float(match.group(1)) * UNITS[match.group(2)]
