"""A later bottle behind equipment beside what was predicted there, stage by stage.

`earlier` compares one tap over time; this compares two ends of the equipment. It changes no
verdict, no stage and no step: a result behind equipment may only add to what is to be done.
"""

from .comparing import with_after

__all__ = ["with_after"]
