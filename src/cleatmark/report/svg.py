"""A drawing made safe to stand inside a page: shapes and words, nothing that runs or loads."""

from __future__ import annotations

from lxml import etree

from cleatmark.report.drawn import drawn_box

_SVG = "http://www.w3.org/2000/svg"
_FRAMES = {"svg", "g", "defs", "pattern", "clipPath", "marker", "use", "title", "desc", "text", "tspan"}
_SHAPES = _FRAMES | {"path", "rect", "line", "polyline", "polygon", "circle", "ellipse"}


def drawing_of(source: str) -> etree._Element | None:
    """The drawing's root; None where the text is no SVG, or has a document type."""
    parser = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False)
    try:
        root = etree.fromstring(source.encode("utf-8"), parser)
    except (etree.XMLSyntaxError, UnicodeEncodeError):
        return None
    return None if root.tag != f"{{{_SVG}}}svg" or "<!DOCTYPE" in source[:4000].upper() else root


def safe_svg(source: str, label: str, prefix: str = "") -> str:
    """The drawing with only shapes, named by `label` for those who cannot see it; "" where it is no SVG.

    Its white edge is cut away, and `prefix` is put before its ids, so that several drawings can share a page.
    Elements that are not shapes, event handlers, style sheets and references out of the drawing are left out.
    """
    root = drawing_of(source)
    if root is None:
        return ""
    _strip(root)
    if prefix:
        _rename(root, prefix)
    box = drawn_box(root)
    if box is not None:
        root.set("viewBox", " ".join(f"{value:g}" for value in box))
        root.set("width", f"{box[2]:g}")
        root.set("height", f"{box[3]:g}")
    root.set("role", "img")
    root.set("aria-label", label)
    root.set("focusable", "false")
    return etree.tostring(root, encoding="unicode", with_tail=False)


def _rename(root: etree._Element, prefix: str) -> None:
    """Every id with the prefix, and every reference to one."""
    for element in root.iter():
        for name, value in list(element.attrib.items()):
            text = str(value)
            if name == "id":
                element.set(name, prefix + text)
            elif "url(#" in text:
                element.set(name, text.replace("url(#", f"url(#{prefix}"))
            elif text.startswith("#") and _name(str(name)) == "href":
                element.set(name, f"#{prefix}{text[1:]}")


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
