// Checks a JSON document against a JSON Schema (draft 2020-12) with ajv.
//
//   node check_json.mjs DOCUMENT SCHEMA
//
// Prints one line and ends with 0 where the document keeps to the schema, else a line for each fault and 1.
// A fault in the schema itself is 1 too: ajv runs in strict mode, so a misspelt keyword is not passed over.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

/** ajv lies in a cache outside the source tree, where an import would not look for it. */
function loadAjv() {
  const home = process.env.CASEWRIGHT_NODE_DIR;
  const require = createRequire(home ? join(home, "package.json") : import.meta.url);
  return require("ajv/dist/2020.js").default;
}

function readJson(path) {
  return JSON.parse(readFileSync(path, "utf8"));
}

function faults(documentPath, schemaPath) {
  const Ajv = loadAjv();
  const validate = new Ajv({ allErrors: true, strict: true, allowUnionTypes: true }).compile(readJson(schemaPath));
  if (validate(readJson(documentPath))) return [];
  return validate.errors.map((error) => {
    const details = JSON.stringify(error.params);
    return `${documentPath}: ${error.instancePath || "/"} ${error.message} ${details}`;
  });
}

const [documentPath, schemaPath] = process.argv.slice(2);
if (!documentPath || !schemaPath) {
  console.error("use: node check_json.mjs DOCUMENT SCHEMA");
  process.exit(2);
}
try {
  const found = faults(documentPath, schemaPath);
  for (const fault of found) console.error(fault);
  if (found.length === 0) console.log(`${documentPath}: keeps to ${schemaPath}`);
  process.exitCode = found.length === 0 ? 0 : 1;
} catch (error) {
  console.error(`${documentPath}: not checked: ${error.message}`);
  process.exitCode = 1;
}
