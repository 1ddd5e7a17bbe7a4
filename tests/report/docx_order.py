"""The order in which WordprocessingML wants the children of an element, and what else a strict reader refuses.

Source: ECMA-376 Part 1 (transitional in Part 4), Annex A: wml.xsd, dml-wordprocessingDrawing.xsd and
dml-picture.xsd; names of the complex types stand beside each sequence. Written from memory, and only for the
elements that these documents may hold: a name that is not in its list fails the test.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from io import BytesIO
from posixpath import dirname, join, normpath
from zipfile import ZipFile

from lxml import etree

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
R = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
WP = "{http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing}"
PIC = "{http://schemas.openxmlformats.org/drawingml/2006/picture}"
A = "{http://schemas.openxmlformats.org/drawingml/2006/main}"
PACKAGE = "{http://schemas.openxmlformats.org/package/2006/relationships}"
TYPES = "{http://schemas.openxmlformats.org/package/2006/content-types}"

_RPR = (
    "rStyle rFonts b bCs i iCs caps smallCaps strike dstrike outline shadow emboss imprint noProof snapToGrid "
    "vanish webHidden color spacing w kern position sz szCs highlight u effect bdr shd fitText vertAlign rtl cs "
    "em lang eastAsianLayout specVanish oMath rPrChange"
)
_TCMAR = "top start left bottom end right"
_BORDERS = "top start left bottom end right insideH insideV tl2br tr2bl"

SEQUENCES = {
    # CT_PPrBase, then CT_PPr
    "pPr": "pStyle keepNext keepLines pageBreakBefore framePr widowControl numPr suppressLineNumbers pBdr shd tabs "
    "suppressAutoHyphens kinsoku wordWrap overflowPunct topLinePunct autoSpaceDE autoSpaceDN bidi adjustRightInd "
    "snapToGrid spacing ind contextualSpacing mirrorIndents suppressOverlap jc textDirection textAlignment "
    "textboxTightWrap outlineLvl divId cnfStyle rPr sectPr pPrChange",
    "rPr": _RPR,  # EG_RPrBase
    "numPr": "ilvl numId numberingChange ins",  # CT_NumPr
    "pBdr": "top left bottom right between bar",  # CT_PBdr
    "tblPr": "tblStyle tblpPr tblOverlap bidiVisual tblStyleRowBandSize tblStyleColBandSize tblW jc "
    "tblCellSpacing tblInd tblBorders shd tblLayout tblCellMar tblLook tblCaption tblDescription tblPrChange",
    "tblBorders": _BORDERS,  # CT_TblBorders
    "tcBorders": _BORDERS,  # CT_TcBorders
    "tblCellMar": _TCMAR,  # CT_TblCellMar
    "tcMar": _TCMAR,  # CT_TcMar
    "tcPr": "cnfStyle tcW gridSpan hMerge vMerge tcBorders shd noWrap tcMar textDirection tcFitText vAlign "
    "hideMark headers cellIns cellDel cellMerge tcPrChange",
    "tbl": "tblPr tblGrid tr",  # CT_Tbl
    "tr": "tblPrEx trPr tc sdt",  # CT_Row
    "sectPr": "headerReference footerReference footnotePr endnotePr type pgSz pgMar paperSrc pgBorders lnNumType "
    "pgNumType cols formProt vAlign noEndnote titlePg textDirection bidi rtlGutter docGrid printerSettings "
    "sectPrChange",
    "sdt": "sdtPr sdtEndPr sdtContent",  # CT_SdtRun
    # CT_SdtPr: the last is one of the choice
    "sdtPr": "rPr alias tag id lock placeholder temporary showingPlcHdr dataBinding label tabIndex "
    "comboBox date dropDownList text",
    "date": "dateFormat lid storeMappedDataAs calendar",  # CT_SdtDate
    "style": "name aliases basedOn next link autoRedefine hidden uiPriority semiHidden unhideWhenUsed qFormat "
    "locked personal personalCompose personalReply rsid pPr rPr tblPr trPr tcPr tblStylePr",
    "tblStylePr": "pPr rPr tblPr trPr tcPr",
    "styles": "docDefaults latentStyles style",
    "docDefaults": "rPrDefault pPrDefault",
    "numbering": "numPicBullet abstractNum num numIdMacAtCleanup",
    "abstractNum": "nsid multiLevelType tmpl name styleLink numStyleLink lvl",
    "lvl": "start numFmt lvlRestart pStyle isLgl suff lvlText lvlPicBulletId legacy lvlJc pPr rPr",
    "num": "abstractNumId lvlOverride",
    "lvlOverride": "startOverride lvl",
    "settings": "writeProtection view zoom removePersonalInformation removeDateAndTime doNotDisplayPageBoundaries "
    "displayBackgroundShape printPostScriptOverText printFractionalCharacterWidth printFormsData embedTrueTypeFonts "
    "embedSystemFonts saveSubsetFonts saveFormsData mirrorMargins alignBordersAndEdges bordersDoNotSurroundHeader "
    "bordersDoNotSurroundFooter gutterAtTop hideSpellingErrors hideGrammaticalErrors activeWritingStyle proofState "
    "formsDesign attachedTemplate linkStyles stylePaneFormatFilter stylePaneSortMethod documentType mailMerge "
    "revisionView trackRevisions doNotTrackMoves doNotTrackFormatting documentProtection autoFormatOverride "
    "styleLockTheme styleLockQFSet defaultTabStop autoHyphenation consecutiveHyphenLimit hyphenationZone "
    "doNotHyphenateCaps showEnvelope summaryLength clickAndTypeStyle defaultTableStyle evenAndOddHeaders "
    "bookFoldRevPrinting bookFoldPrinting bookFoldPrintingSheets drawingGridHorizontalSpacing "
    "drawingGridVerticalSpacing displayHorizontalDrawingGridEvery displayVerticalDrawingGridEvery "
    "doNotUseMarginsForDrawingGridOrigin drawingGridHorizontalOrigin drawingGridVerticalOrigin doNotShadeFormData "
    "noPunctuationKerning characterSpacingControl printTwoOnOne strictFirstAndLastChars noLineBreaksAfter "
    "noLineBreaksBefore savePreviewPicture doNotValidateAgainstSchema saveInvalidXml ignoreMixedContent "
    "alwaysShowPlaceholderText doNotDemarcateInvalidXml saveXmlDataOnly useXSLTWhenSaving saveThroughXslt "
    "showXMLTags alwaysMergeEmptyNamespace updateFields hdrShapeDefaults footnotePr endnotePr compat docVars rsids "
    "mathPr attachedSchema themeFontLang clrSchemeMapping doNotIncludeSubdocsInStats doNotAutoCompressPictures "
    "forceUpgrade captions readModeInkLockDown smartTagType schemaLibrary shapeDefaults doNotEmbedSmartTags "
    "decimalSymbol listSeparator",
}
DRAWN = {
    f"{WP}inline": "extent effectExtent docPr cNvGraphicFramePr graphic",  # CT_Inline
    f"{PIC}pic": "nvPicPr blipFill spPr",  # CT_Picture
    f"{PIC}blipFill": "blip srcRect stretch",  # CT_BlipFillProperties
    f"{PIC}spPr": "xfrm prstGeom",  # CT_ShapeProperties
    f"{A}xfrm": "off ext",
}
REPEATED = {
    "headerReference",
    "footerReference",
    "tc",
    "tr",
    "sdt",
    "lvl",
    "style",
    "abstractNum",
    "num",
    "tblStylePr",
}


def parts(data: bytes) -> dict[str, etree._Element]:
    """Every XML part of the package, by name."""
    with ZipFile(BytesIO(data)) as archive:
        assert archive.testzip() is None
        names = archive.namelist()
        assert len(names) == len(set(names))
        return {
            name: etree.fromstring(archive.read(name)) for name in names if name.endswith((".xml", ".rels"))
        }


def misplaced(root: etree._Element) -> Iterator[str]:
    """Children that stand out of their order, or in an element that does not take them, or twice."""
    for element in root.iter(etree.Element):
        name = etree.QName(element).localname
        order = SEQUENCES.get(name) if element.tag == W + name else DRAWN.get(str(element.tag))
        if order is None:
            continue
        ranks = {child: n for n, child in enumerate(order.split())}
        found = [etree.QName(child).localname for child in element]
        unknown = [child for child in found if child not in ranks]
        if unknown:
            yield f"{name} does not take {', '.join(unknown)}"
            continue
        places = [ranks[child] for child in found]
        if name == "sectPr":  # EG_HdrFtrReferences: headers and footers in any order
            places = [max(place, 1) for place in places]
        if places != sorted(places) and name != "tr":
            yield f"{name} has its children as {' '.join(found)}"
        twice = [child for child, count in Counter(found).items() if count > 1 and child not in REPEATED]
        if twice and name in SEQUENCES:
            yield f"{name} holds {', '.join(twice)} twice"


def loose_ends(package: dict[str, etree._Element], names: set[str]) -> Iterator[str]:
    """Relationships that lead nowhere or are not there, and parts without a content type."""
    kinds = package["[Content_Types].xml"]
    named = {one.get("PartName") for one in kinds.iter(f"{TYPES}Override")}
    endings = {one.get("Extension") for one in kinds.iter(f"{TYPES}Default")}
    for name in sorted(names - {"[Content_Types].xml"}):
        if f"/{name}" not in named and name.rsplit(".", 1)[-1] not in endings:
            yield f"{name} has no content type"
    yield from (f"{one} is typed and not there" for one in named if str(one)[1:] not in names)
    for name, root in package.items():
        if not name.endswith(".rels"):
            continue
        home = dirname(dirname(name))
        ids = [one.get("Id") for one in root.iter(f"{PACKAGE}Relationship")]
        if len(ids) != len(set(ids)):
            yield f"{name} gives an id twice"
        for one in root.iter(f"{PACKAGE}Relationship"):
            target = str(one.get("Target"))
            at = normpath(target.lstrip("/") if target.startswith("/") else join(home, target))
            if one.get("TargetMode") == "External" or at not in names:
                yield f"{name} leads to {target}"
    for name, root in package.items():
        rels = package.get(join(dirname(name), "_rels", name.rsplit("/", 1)[-1] + ".rels"))
        known = {one.get("Id") for one in rels.iter(f"{PACKAGE}Relationship")} if rels is not None else set()
        used = {
            str(value)
            for element in root.iter()
            for key, value in element.attrib.items()
            if str(key).startswith(R)
        }
        yield from (f"{name} uses {one}, which is not there" for one in sorted(used - known))


def bad_tables(root: etree._Element) -> Iterator[str]:
    """Cells that do not end with a paragraph, rows whose cells do not fill the grid, widths that differ from it."""
    for table in root.iter(f"{W}tbl"):
        grid = [int(str(column.get(f"{W}w"))) for column in table.findall(f"{W}tblGrid/{W}gridCol")]
        for row in table.findall(f"{W}tr"):
            at = 0
            for cell in row.findall(f"{W}tc"):
                if len(cell) == 0 or cell[-1].tag != f"{W}p":
                    yield "a cell does not end with a paragraph"
                span = cell.find(f"{W}tcPr/{W}gridSpan")
                wide = int(str(span.get(f"{W}val"))) if span is not None else 1
                size = cell.find(f"{W}tcPr/{W}tcW")
                if size is not None and abs(int(str(size.get(f"{W}w"))) - sum(grid[at : at + wide])) > 2:
                    yield f"a cell is {size.get(f'{W}w')} wide where the grid has {sum(grid[at : at + wide])}"
                at += wide
            if at != len(grid):
                yield f"a row has {at} columns of {len(grid)}"
        after = table.getnext()
        if after is None or after.tag == f"{W}tbl":
            yield "a table is not followed by a paragraph"


def bad_ids(root: etree._Element) -> Iterator[str]:
    """Ids that are there twice, and marks that are not closed."""
    starts = [one.get(f"{W}id") for one in root.iter(f"{W}bookmarkStart")]
    ends = [one.get(f"{W}id") for one in root.iter(f"{W}bookmarkEnd")]
    if sorted(map(str, starts)) != sorted(map(str, ends)) or len(starts) != len(set(starts)):
        yield "bookmarks are not paired"
    names = [str(one.get(f"{W}name")) for one in root.iter(f"{W}bookmarkStart")]
    yield from (f"bookmark {one} is longer than 40" for one in names if len(one) > 40)
    yield from (f"bookmark {one} is there twice" for one, count in Counter(names).items() if count > 1)
    for tag, key in ((f"{WP}docPr", "id"), (f"{W}sdtPr/{W}id", f"{W}val")):
        ids = [one.get(key) for one in (root.iter(tag) if "/" not in tag else root.iterfind(f".//{tag}"))]
        yield from (f"{tag} {one} is there twice" for one, count in Counter(ids).items() if count > 1)
    linked = {str(one.get(f"{W}anchor")) for one in root.iter(f"{W}hyperlink")}
    yield from (f"a link leads to {one}, which is not there" for one in sorted(linked - set(names)))
