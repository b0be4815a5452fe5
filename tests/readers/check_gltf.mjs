// Checks a binary glTF file with the validator of those who wrote the standard.
//
//   node check_gltf.mjs CASE.glb
//
// Prints a JSON object { "errors", "warnings", "names": of all nodes with a mesh } and ends with 0; faults are told line by line, and end with 1.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

const home = process.env.CASEWRIGHT_NODE_DIR;
const require = createRequire(home ? join(home, "package.json") : import.meta.url);
const validator = require("gltf-validator");

const [path] = process.argv.slice(2);
const bytes = readFileSync(path);
const report = await validator.validateBytes(new Uint8Array(bytes));
const { numErrors, numWarnings, messages } = report.issues;
for (const { message, pointer } of messages) {
  console.error(`${pointer}: ${message}`);
}
const text = bytes.subarray(20, 20 + bytes.readUInt32LE(12)).toString("utf8");
const names = JSON.parse(text).nodes.filter((node) => node.mesh !== undefined).map((node) => node.name);
console.log(JSON.stringify({ errors: numErrors, warnings: numWarnings, names }));
process.exitCode = numErrors + numWarnings > 0 ? 1 : 0;
