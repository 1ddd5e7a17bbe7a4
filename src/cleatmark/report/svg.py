"""A drawing made safe to stand inside a page: shapes and words, nothing that runs or loads."""

from __future__ import annotations

from lxml import etree

_SVG = "http://www.w3.org/2000/svg"
_FRAMES = {"svg", "g", "defs", "pattern", "clipPath", "marker", "use", "title", "desc", "text", "tspan"}
_SHAPES = _FRAMES | {"path", "rect", "line", "polyline", "polygon", "circle", "ellipse"}


def safe_svg(source: str, label: str) -> str:
    """The drawing with only shapes, named by `label` for those who cannot see it; "" where it is no SVG.

    Elements that are not shapes, event handlers, style sheets and references out of the drawing are left out.
    """
    parser = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False)
    try:
        root = etree.fromstring(source.encode("utf-8"), parser)
    except (etree.XMLSyntaxError, UnicodeEncodeError):
        return ""
    if root.tag != f"{{{_SVG}}}svg" or "<!DOCTYPE" in source[:4000].upper():
        return ""
    _strip(root)
    root.set("role", "img")
    root.set("aria-label", label)
    root.set("focusable", "false")
    return etree.tostring(root, encoding="unicode", with_tail=False)


def _strip(element: etree._Element) -> None:
    for child in list(element):
        if not isinstance(child.tag, str) or _name(child.tag) not in _SHAPES:
            element.remove(child)
        else:
            _strip(child)
    for name, value in list(element.attrib.items()):
        key, held = _name(str(name)).lower(), str(value).lower()
        outside = key == "href" and not held.startswith("#")
        loads = "url(" in held and "url(#" not in held
        if key.startswith("on") or outside or loads or "javascript:" in held or "expression(" in held:
            del element.attrib[name]


def _name(tag: str) -> str:
    """The local name; "" for a foreign element."""
    if tag.startswith("{"):
        space, name = tag[1:].split("}", 1)
        return name if space in (_SVG, "http://www.w3.org/1999/xlink") else ""
    return tag
