"""Templates compiled once: Jinja takes as long to compile those of a page as to set twenty of it."""

from __future__ import annotations

import marshal
from importlib.metadata import version

from jinja2 import Environment
from jinja2.bccache import Bucket, BytecodeCache
from jinja2.sandbox import SandboxedEnvironment

from journal.memory import Memory, digest_of


class CompiledTemplates(BytecodeCache):
    """Jinja's own place for compiled templates, which recalls them from a memory."""

    def __init__(self, memory: Memory) -> None:
        self._memory = memory
        self._jinja = version("jinja2")

    def get_bucket(self, environment: Environment, name: str, filename: str | None, source: str) -> Bucket:
        """A template with its code; raises TemplateSyntaxError as compiling does."""
        sandboxed = str(isinstance(environment, SandboxedEnvironment))
        key = digest_of("template", self._jinja, sandboxed, name, filename or "", source)
        bucket = Bucket(environment, key, key)
        code = self._memory.recall(key, lambda: marshal.dumps(environment.compile(source, name, filename)))
        bucket.code = marshal.loads(code)  # noqa: S302  # a memory gives back what was put there by this program, or nothing
        return bucket
