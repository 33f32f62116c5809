"""Learning from the log: what a player's shots are, with the uncertainty that the balls deserve.

One description of each question (`problem`), two engines that answer it: a quick one that never
leaves numpy and scipy (`quick`), and full sampling (`full`), the only place that knows PyMC.
"""
