"""Workbooks for tests, their zip and XML written by hand from the standards' text.

ODS: ISO/IEC 26300 (OASIS OpenDocument 1.3, part 3: 3.1.3.2 `office:document-content`, 9.1.2 `table:table`, 9.1.3
`table:table-row`, 9.1.4 `table:table-cell`; part 2: packages). XLSX: ECMA-376 part 1 (18.2 workbook, 18.3 worksheet,
18.4 shared strings, 18.8 styles) and part 2 (packages and relationships). From memory of their text, and read as we
read it by openpyxl 3.1.5 and odfpy 1.4.1 when these were written.
"""

import io
import zipfile
from collections.abc import Mapping, Sequence

ODF = "urn:oasis:names:tc:opendocument:xmlns"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATED = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
ODS_KIND = "application/vnd.oasis.opendocument.spreadsheet"
XML = '<?xml version="1.0" encoding="UTF-8"?>'


def zipped(parts: Mapping[str, str | bytes]) -> bytes:
    """Return a zip of parts, deflated."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return out.getvalue()


def ods_content(tables: str) -> str:
    """Return `content.xml` around tables."""
    spaces = " ".join(f'xmlns:{short}="{ODF}:{short}:1.0"' for short in ("office", "table", "text", "drawing"))
    spaces += ' xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'
    return (
        f'{XML}<office:document-content {spaces} office:version="1.3"><office:body><office:spreadsheet>{tables}'
        "</office:spreadsheet></office:body></office:document-content>"
    )


def ods(tables: str, manifest: str = "") -> bytes:
    """Return an OpenDocument spreadsheet with these tables."""
    listed = (
        f'{XML}<manifest:manifest xmlns:manifest="{ODF}:manifest:1.0" manifest:version="1.3">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{ODS_KIND}"/>'
        f'<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml">{manifest}'
        "</manifest:file-entry></manifest:manifest>"
    )
    return zipped({"mimetype": ODS_KIND, "content.xml": ods_content(tables), "META-INF/manifest.xml": listed})


def ods_table(rows: str, name: str = "Sheet1") -> str:
    """Return a table of rows."""
    return f'<table:table table:name="{name}">{rows}</table:table>'


def ods_row(*cells: str, more: str = "") -> str:
    """Return a row: a cell that begins with `<` as it is, any other as a text."""
    made = (cell if cell.startswith("<") else ods_text(cell) if cell else "<table:table-cell/>" for cell in cells)
    return f"<table:table-row{more}>{''.join(made)}</table:table-row>"


def ods_text(text: str, more: str = "") -> str:
    """Return a cell with a text."""
    return f'<table:table-cell office:value-type="string"{more}><text:p>{text}</text:p></table:table-cell>'


def ods_number(value: str, shown: str, kind: str = "float") -> str:
    """Return a cell with a stored value and what it shows."""
    return (
        f'<table:table-cell office:value-type="{kind}" office:value="{value}" calcext:value-type="{kind}">'
        f"<text:p>{shown}</text:p></table:table-cell>"
    )


def xlsx(
    sheets: Mapping[str, str],
    shared: Sequence[str] = (),
    styles: str = "",
    properties: str = "",
    states: Mapping[str, str] | None = None,
) -> bytes:
    """Return a workbook: the rows of each sheet as XML, shared strings as the insides of `si`."""
    listed, related, types = "", "", ""
    parts: dict[str, str | bytes] = {}
    for number, (name, rows) in enumerate(sheets.items(), 1):
        state = f' state="{states[name]}"' if states and name in states else ""
        listed += f'<sheet name="{name}" sheetId="{number}"{state} r:id="rId{number}"/>'
        related += _relation(f"rId{number}", "worksheet", f"worksheets/sheet{number}.xml")
        types += _override(f"/xl/worksheets/sheet{number}.xml", "worksheet")
        parts[f"xl/worksheets/sheet{number}.xml"] = (
            f'{XML}<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData></worksheet>'
        )
    strings = "".join(f"<si>{text}</si>" for text in shared)
    related += _relation("rIdS", "sharedStrings", "sharedStrings.xml") + _relation("rIdT", "styles", "/xl/styles.xml")
    return zipped(
        {
            "[Content_Types].xml": f'{XML}<Types xmlns="{PACKAGE}/content-types"><Default Extension="rels" '
            'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
            f"{_override('/xl/workbook.xml', 'sheet.main')}{types}{_override('/xl/sharedStrings.xml', 'sharedStrings')}"
            f"{_override('/xl/styles.xml', 'styles')}</Types>",
            "_rels/.rels": _relations(_relation("rId1", "officeDocument", "xl/workbook.xml")),
            "xl/_rels/workbook.xml.rels": _relations(related),
            "xl/workbook.xml": f'{XML}<workbook xmlns="{MAIN}" xmlns:r="{RELATED}">{properties}'
            f"<sheets>{listed}</sheets></workbook>",
            "xl/sharedStrings.xml": f'{XML}<sst xmlns="{MAIN}">{strings}</sst>',
            "xl/styles.xml": f'{XML}<styleSheet xmlns="{MAIN}">{styles or STYLES}</styleSheet>',
            **parts,
        }
    )


def _relations(listed: str) -> str:
    return f'{XML}<Relationships xmlns="{PACKAGE}/relationships">{listed}</Relationships>'


def _relation(name: str, kind: str, target: str) -> str:
    return f'<Relationship Id="{name}" Type="{RELATED}/{kind}" Target="{target}"/>'


def _override(part: str, kind: str) -> str:
    what = f"application/vnd.openxmlformats-officedocument.spreadsheetml.{kind}+xml"
    return f'<Override PartName="{part}" ContentType="{what}"/>'


_FILL = (
    '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>'
)
STYLES = (  # style 1: a date; 2: a percentage; 3: with a unit; 4: by the thousand; 5: yyyy-mm-dd; 6: a time
    '<numFmts count="4"><numFmt numFmtId="164" formatCode="0.0&quot; g&quot;"/>'
    '<numFmt numFmtId="165" formatCode="0.0,&quot; kg&quot;"/><numFmt numFmtId="166" formatCode="yyyy\\-mm\\-dd"/>'
    '<numFmt numFmtId="167" formatCode="[Red]0.0\\ \\o\\z"/></numFmts>'
    '<fonts count="1"><font><sz val="11"/></font></fonts>' + _FILL + "</fills>"
    '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>'
    '<cellStyleXfs count="1"><xf numFmtId="14" fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs count="8">'
    + "".join(
        f'<xf numFmtId="{number}" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>'
        for number in (0, 14, 9, 164, 165, 166, 21, 167)
    )
    + "</cellXfs>"
)
