"""Reads a PDF file with pypdf and tells what is on it, as JSON.

    python check_pdf.py PAPER.pdf

Prints {"pages": 2, "width_mm": 420.0, "height_mm": 297.0, "text": "..."}. Width and height are those of the first
page; the text is that of all pages, a page after the other. Ends with 1 where the file cannot be read.
"""

import json
import sys

import pypdf

MM_PER_POINT = 25.4 / 72


def describe(path):
    """What the file holds."""
    reader = pypdf.PdfReader(path, strict=True)
    page = reader.pages[0]
    # user_unit: how many points the file's unit is; 1 unless the file says otherwise.
    mm = MM_PER_POINT * float(page.user_unit)
    return {
        "pages": len(reader.pages),
        "width_mm": round(float(page.mediabox.width) * mm, 3),
        "height_mm": round(float(page.mediabox.height) * mm, 3),
        "text": "\n".join(page.extract_text() for page in reader.pages),
    }


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("use: python check_pdf.py PAPER.pdf")
    try:
        print(json.dumps(describe(sys.argv[1]), ensure_ascii=False))
    except (OSError, IndexError, pypdf.errors.PyPdfError) as error:
        sys.exit(f"{sys.argv[1]}: cannot be read: {error}")
