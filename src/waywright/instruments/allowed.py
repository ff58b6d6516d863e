"""What a description file may hold at a key, read from the types of its records."""

from __future__ import annotations

import re

from msgspec import inspect

Node = inspect.Type


def allowed_at(record: type, key: str) -> str:
    """What is allowed at ``key`` ("channel[1].unit"): key names, words, or the kind of number, for a sentence."""
    nodes = [inspect.type_info(record)]
    for step in re.findall(r"[^.\[\]]+|\[[^\]]*\]", key):
        nodes = [below for node in nodes for below in _below(node, step)]
    words = dict.fromkeys(word for node in nodes for word in _words(node))
    return ", ".join(words) or "-"


def _below(node: Node, step: str) -> list[Node]:
    if isinstance(node, inspect.UnionType):
        return [below for option in node.types for below in _below(option, step)]
    if isinstance(node, inspect.StructType):
        tag = [inspect.LiteralType((node.tag,))] if node.tag_field == step else []
        return [*tag, *(field.type for field in node.fields if field.encode_name == step)]
    if isinstance(node, inspect.VarTupleType):
        return [node.item_type]
    if isinstance(node, inspect.TupleType):
        return list(node.item_types)
    return []


def _words(node: Node) -> list[str]:
    if isinstance(node, inspect.UnionType):
        options = [option for option in node.types if not isinstance(option, inspect.NoneType)]
        return [word for option in options for word in _words(option)]
    if isinstance(node, inspect.StructType):
        tag = [node.tag_field] if node.tag_field else []
        return [*tag, *(field.encode_name for field in node.fields)]
    if isinstance(node, inspect.LiteralType):
        return [str(value) for value in node.values]
    if isinstance(node, inspect.EnumType):
        return [str(member.value) for member in node.cls]
    return [_kind_of_value(node)]


def _kind_of_value(node: Node) -> str:
    match node:
        case inspect.IntType() | inspect.FloatType():
            return _number(node)
        case inspect.StrType():
            return f"text ({node.pattern})" if node.pattern else "text"
        case inspect.TupleType():
            return f"{len(node.item_types)} values"
        case inspect.VarTupleType():
            return f"list of ({', '.join(_words(node.item_type))})"
        case inspect.DateType():
            return "YYYY-MM-DD"
    return "table"


def _number(node: inspect.IntType | inspect.FloatType) -> str:
    limits = ((">", node.gt), (">=", node.ge), ("<", node.lt), ("<=", node.le))
    kind = "whole number" if isinstance(node, inspect.IntType) else "number"
    return " ".join([kind, *(f"{sign} {limit}" for sign, limit in limits if limit is not None)])
