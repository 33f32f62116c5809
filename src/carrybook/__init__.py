"""The book of a golfer's scoring shots: what carries how far, where to land, where to aim."""

__version__ = "0.1.0"
