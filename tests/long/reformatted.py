"""The same YAML written another way: in blocks or in braces, with other quotes, its keys in another order."""

from __future__ import annotations

import random
from typing import ClassVar

import yaml
from yaml import MappingNode, Node, ScalarNode, SequenceNode

from journal.reading.located_yaml import Mapping, Scalar, Sequence
from journal.reading.located_yaml import Node as Located

_TEXT = yaml.resolver.BaseResolver.DEFAULT_SCALAR_TAG
_LIST = yaml.resolver.BaseResolver.DEFAULT_SEQUENCE_TAG
_GROUP = yaml.resolver.BaseResolver.DEFAULT_MAPPING_TAG
#: Texts that mean nothing where they stand without quotes, and themselves where they stand with them.
_NOTHING = frozenset({"", "~", "null", "Null", "NULL"})


def nodes_of(node: Located) -> Node:
    """Nodes as PyYAML writes them out; quotes are kept for where they make a difference."""
    if isinstance(node, Scalar):
        return ScalarNode(_TEXT, node.text, style=None if node.plain else "'")
    if isinstance(node, Sequence):
        return SequenceNode(_LIST, [nodes_of(item) for item in node.items])
    assert isinstance(node, Mapping)
    return MappingNode(_GROUP, [(nodes_of(key), nodes_of(value)) for key, value in node.pairs])


def _restyle(node: Node, chance: random.Random, *, shuffle: bool) -> Node:
    """A copy in a style of its own; what stands in several places comes out as several copies."""
    if isinstance(node, ScalarNode):
        style = node.style if node.value in _NOTHING else chance.choice([None, None, None, "'", '"', "|", ">"])
        return ScalarNode(_TEXT, node.value, style=style)
    flow = chance.random() < 0.4
    if isinstance(node, SequenceNode):
        return SequenceNode(_LIST, [_restyle(item, chance, shuffle=shuffle) for item in node.value], flow_style=flow)
    pairs = [(_restyle(k, chance, shuffle=shuffle), _restyle(v, chance, shuffle=shuffle)) for k, v in node.value]
    if shuffle:
        chance.shuffle(pairs)
    return MappingNode(_GROUP, pairs, flow_style=flow)


class _Writer(yaml.Dumper):
    """Every text may stand without quotes: what it means is the field table's business."""

    yaml_implicit_resolvers: ClassVar[dict[str, list[tuple[str, object]]]] = {}


def written_anyhow(root: Node, chance: random.Random, *, shuffle: bool = False) -> str:
    """A tree as YAML in some style."""
    styled, width = _restyle(root, chance, shuffle=shuffle), chance.choice([20, 80, 1000])
    # PyYAML puts a backslash too many where it breaks a line after an escape
    plain = width < 1000 or chance.random() < 0.7
    indent = chance.choice([2, 3, 4, 8])
    return str(yaml.serialize(styled, Dumper=_Writer, indent=indent, width=width, allow_unicode=plain))
