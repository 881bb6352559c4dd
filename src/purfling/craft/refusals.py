"""Refusals, as the craft raises them; planning shares them, so they stand beside both rooms."""

from purfling.refusals import Refusal

__all__ = ["Refusal"]
