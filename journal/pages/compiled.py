"""Templates compiled once: Jinja takes as long to compile those of a page as to set twenty of it. And compiled so that they escape
quickly, see `escaped.py`.
"""

from __future__ import annotations

import marshal
from importlib.metadata import version
from typing import Any

from jinja2 import Environment
from jinja2.bccache import Bucket, BytecodeCache
from jinja2.compiler import CodeGenerator
from jinja2.sandbox import SandboxedEnvironment

from journal.memory import Memory, digest_of
from journal.pages.escaped import escaped


class CompiledTemplates(BytecodeCache):
    """Jinja's own place for compiled templates, which recalls them from a memory."""

    def __init__(self, memory: Memory) -> None:
        self._memory = memory
        self._made: set[str] = set()
        self._jinja = version("jinja2")

    def get_bucket(self, environment: Environment, name: str, filename: str | None, source: str) -> Bucket:
        """A template with its code; raises TemplateSyntaxError as compiling does."""
        sandboxed = str(isinstance(environment, SandboxedEnvironment))
        key = digest_of("template", self._jinja, sandboxed, name, filename or "", source)
        bucket = Bucket(environment, key, key)

        def make() -> bytes:
            self._made.add(name)
            return marshal.dumps(environment.compile(source, name, filename))

        code = self._memory.recall(key, make)
        bucket.code = marshal.loads(code)  # noqa: S302  # a memory gives back what was put there by this program, or nothing
        return bucket

    def has_made(self, name: str) -> bool:
        """Whether a template was compiled, and not recalled."""
        return name in self._made


class _EscapingQuickly(CodeGenerator):
    """Jinja's own, but that what a template says is escaped by `escaped`."""

    def _output_child_pre(self, node: Any, frame: Any, finalize: Any) -> None:
        if frame.eval_ctx.autoescape and not frame.eval_ctx.volatile and finalize.src is None:
            self.write("environment.escaped(")
        else:
            super()._output_child_pre(node, frame, finalize)


def escape_quickly(environment: Environment) -> None:
    """Let an environment's templates, whose output is only ever joined, be compiled to do without `Markup` around each part."""
    environment.code_generator_class = _EscapingQuickly
    environment.extend(escaped=escaped)
