"""Notchbook: data files of a pendulum impact laboratory in, a checked and computed handbook out."""

__version__ = "0.1.0"
