"""Writes the demo packing list with the Python standard library alone, as files for the tests.

Usage: python3 make_outside.py   (in this folder)
"""

import csv
import io
import pathlib
import zipfile
from xml.sax.saxutils import escape

DEMO = pathlib.Path("../../../assets/demo/osterhollow-tail-kit.csv")
with DEMO.open(newline="") as f:
    ROWS = list(csv.reader(f))


def text(encoding, **dialect):
    out = io.StringIO(newline="")
    csv.writer(out, **dialect).writerows(ROWS)
    return out.getvalue().encode(encoding)


def pack(name, parts):
    with zipfile.ZipFile(name, "w", zipfile.ZIP_DEFLATED) as z:
        for part, body in parts:
            z.writestr(zipfile.ZipInfo(part), body, zipfile.ZIP_DEFLATED)


def letter(i):
    return chr(ord("A") + i)


HEAD = '<?xml version="1.0" encoding="UTF-8"?>'
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
REL = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PKG = "http://schemas.openxmlformats.org/package/2006"


def is_number(row, column):
    return row > 0 and column in (0, 5)


def xlsx(shared):
    """A workbook as small as ISO/IEC 29500-1 lets it be, with or without a table of strings."""
    strings, rows = [], []
    for i, row in enumerate(ROWS):
        cells = []
        for j, value in enumerate(row):
            ref = f"{letter(j)}{i + 1}"
            if is_number(i, j):
                cells.append(f'<c r="{ref}"><v>{float(value)!r}</v></c>')
            elif shared:
                if value not in strings:
                    strings.append(value)
                cells.append(f'<c r="{ref}" t="s"><v>{strings.index(value)}</v></c>')
            else:
                cells.append(f'<c t="inlineStr"><is><t>{escape(value)}</t></is></c>')
        number = f' r="{i + 1}"' if shared else ""
        rows.append(f"<row{number}>{''.join(cells)}</row>")
    types = [("/xl/workbook.xml", "sheet.main"), ("/xl/worksheets/sheet1.xml", "worksheet")]
    links = [("worksheet", "worksheets/sheet1.xml")]
    if shared:
        types.append(("/xl/sharedStrings.xml", "sharedStrings"))
        links.append(("sharedStrings", "sharedStrings.xml"))
    overrides = "".join(
        f'<Override PartName="{p}" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.{t}+xml"/>'
        for p, t in types
    )
    relations = "".join(
        f'<Relationship Id="rId{i + 1}" Type="{REL}/{t}" Target="{p}"/>' for i, (t, p) in enumerate(links)
    )
    parts = [
        (
            "[Content_Types].xml",
            f'{HEAD}<Types xmlns="{PKG}/content-types"><Default Extension="rels"'
            ' ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
            f"{overrides}</Types>",
        ),
        (
            "_rels/.rels",
            f'{HEAD}<Relationships xmlns="{PKG}/relationships"><Relationship Id="rId1"'
            f' Type="{REL}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        ),
        (
            "xl/workbook.xml",
            f'{HEAD}<workbook xmlns="{MAIN}" xmlns:r="{REL}"><sheets>'
            '<sheet name="Tail kit" sheetId="1" r:id="rId1"/></sheets></workbook>',
        ),
        ("xl/_rels/workbook.xml.rels", f'{HEAD}<Relationships xmlns="{PKG}/relationships">{relations}</Relationships>'),
        ("xl/worksheets/sheet1.xml", f'{HEAD}<worksheet xmlns="{MAIN}"><sheetData>{"".join(rows)}</sheetData></worksheet>'),
    ]
    if shared:
        items = "".join(f"<si><t>{escape(s)}</t></si>" for s in strings)
        parts.append(("xl/sharedStrings.xml", f'{HEAD}<sst xmlns="{MAIN}">{items}</sst>'))
    return parts


def ods():
    """A spreadsheet by OASIS OpenDocument 1.3, part 3, with runs of equal cells written once."""
    office = "urn:oasis:names:tc:opendocument:xmlns:office:1.0"
    table = "urn:oasis:names:tc:opendocument:xmlns:table:1.0"
    words = "urn:oasis:names:tc:opendocument:xmlns:text:1.0"
    rows = ['<table:table-row table:number-rows-repeated="2"><table:table-cell table:number-columns-repeated="1024"/></table:table-row>']
    for i, row in enumerate(ROWS):
        cells = []
        for j, value in enumerate(row):
            if is_number(i, j):
                cells.append(
                    f'<table:table-cell office:value-type="float" office:value="{float(value):g}"><text:p>{escape(value)}</text:p></table:table-cell>'
                )
            else:
                cells.append(f'<table:table-cell office:value-type="string"><text:p>{escape(value)}</text:p></table:table-cell>')
        rows.append(f'<table:table-row>{"".join(cells)}<table:table-cell table:number-columns-repeated="1016"/></table:table-row>')
    rows.append('<table:table-row table:number-rows-repeated="1048000"><table:table-cell table:number-columns-repeated="1024"/></table:table-row>')
    content = (
        f'{HEAD}<office:document-content xmlns:office="{office}" xmlns:table="{table}" xmlns:text="{words}" office:version="1.3">'
        f'<office:body><office:spreadsheet><table:table table:name="Tail kit">{"".join(rows)}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    return [("mimetype", "application/vnd.oasis.opendocument.spreadsheet"), ("content.xml", content)]


def write(name, data):
    pathlib.Path(name).write_bytes(data)


write("excel-dialect.csv", text("utf-8"))
write("unix-dialect.csv", text("utf-8", dialect="unix"))
write("tabs-utf-16.txt", text("utf-16", delimiter="\t"))
write("tabs-utf-16-be.txt", text("utf-16-be", delimiter="\t"))
write("semicolons-utf-8-sig.csv", text("utf-8-sig", delimiter=";", quoting=csv.QUOTE_ALL))
pack("shared-strings.xlsx", xlsx(shared=True))
pack("inline-strings.xlsx", xlsx(shared=False))
pack("repeated-cells.ods", ods())
