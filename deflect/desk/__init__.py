"""The desk: one local page for designer, planner and trainer.

Rooms over the same core as the commands: ``check`` and ``lesson``.  Pages and their wiring only: what is
computed is computed by ``advice`` and ``mechanics``, what is written by ``report``.
"""
