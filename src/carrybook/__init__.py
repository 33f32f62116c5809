"""The book of a golfer's scoring shots: what carries how far today, where to land it, where to aim."""

__version__ = "0.1.0"
