"""An option that takes one value is given once: of two the first would be ignored silently."""

from __future__ import annotations

from collections import Counter
from typing import Any

from typer.core import TyperCommand


class Once(TyperCommand):
    """A command that refuses an option which is given twice and takes one value."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """As ever, after looking at how often each option stands there."""
        _, _, order = self.make_parser(ctx).parse_args(args=list(args))
        for parameter, times in Counter(order).items():
            if times > 1 and parameter.param_type_name == "option" and parameter.nargs == 1 \
                    and not getattr(parameter, "multiple", False):
                ctx.fail(f"{max(parameter.opts, key=len)} stands there {times} times, and takes "
                         "one value")
        return super().parse_args(ctx, args)
