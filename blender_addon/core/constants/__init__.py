"""Constants and tolerances, each with its unit, source and reason; all in one place on purpose.

A file is named like the stage that they belong to; what several stages share is ``common``, or with
the first of them. Materials and stock are in ``catalog``.
"""
