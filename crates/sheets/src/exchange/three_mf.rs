//! A part as a mesh with its name and unit: 3MF core specification 1.3.

use std::fmt::Write as _;
use std::io::{Cursor, Write as _};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use super::Kind;

const TYPES: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>
"#;
const RELATIONS: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>
"#;

/// The package of a part, in its own measures.
pub(super) fn of(kind: &Kind<'_>) -> Result<Vec<u8>, String> {
    let mut package = ZipWriter::new(Cursor::new(Vec::new()));
    // No time of day: the same part gives the same bytes.
    let options = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated).last_modified_time(DateTime::default());
    for (name, text) in [("[Content_Types].xml", TYPES), ("_rels/.rels", RELATIONS), ("3D/3dmodel.model", &model(kind))] {
        package.start_file(name, options).map_err(|error| error.to_string())?;
        package.write_all(text.as_bytes()).map_err(|error| error.to_string())?;
    }
    Ok(package.finish().map_err(|error| error.to_string())?.into_inner())
}

fn model(kind: &Kind<'_>) -> String {
    let shape = &kind.made.shape;
    let mut text = String::from(concat!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n",
        "<model unit=\"millimeter\" xml:lang=\"en\" xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n",
        " <resources>\n"
    ));
    let title = kind.parts.first().map_or("", |part| part.title.as_str());
    // Writing to a string can't fail.
    let _ = writeln!(
        text,
        "  <object id=\"1\" type=\"model\" name=\"{}\">\n   <mesh>\n    <vertices>",
        escaped(&format!("{} {title}", kind.name))
    );
    for at in &shape.positions {
        let _ = writeln!(text, "     <vertex x=\"{:.7}\" y=\"{:.7}\" z=\"{:.7}\"/>", at.x + 0.0, at.y + 0.0, at.z + 0.0);
    }
    text.push_str("    </vertices>\n    <triangles>\n");
    for [a, b, c] in &shape.triangles {
        let _ = writeln!(text, "     <triangle v1=\"{a}\" v2=\"{b}\" v3=\"{c}\"/>");
    }
    text.push_str(concat!(
        "    </triangles>\n   </mesh>\n  </object>\n </resources>\n",
        " <build>\n  <item objectid=\"1\"/>\n </build>\n</model>\n"
    ));
    text
}

/// A text as it may stand in an attribute.
pub(super) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
