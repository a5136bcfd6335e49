// Same bytes in every engine: a core room may use only + - x / and the Math functions that IEEE 754 or integer
// arithmetic pin down. Also sees to it that every folder of src stands in rooms.json.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';

const { core, order } = JSON.parse(readFileSync('test/check/rooms.json', 'utf8'));
const ALLOWED_MATH = new Set([
  'sqrt',
  'floor',
  'ceil',
  'abs',
  'min',
  'max',
  'imul',
  'fround',
  'round',
  'trunc',
  'sign',
  'clz32',
  'PI',
  'LN2',
  'SQRT2',
]);
const FORBIDDEN_GLOBALS = new Set(['Date', 'Intl', 'performance', 'crypto']);
const FORBIDDEN_METHODS = new Set(['toLocaleString', 'localeCompare', 'toLocaleUpperCase', 'toLocaleLowerCase']);

const faults = [];

for (const folder of readdirSync('src', { withFileTypes: true })) {
  if (folder.isDirectory() && !(folder.name in order)) {
    faults.push(
      `src/${folder.name}: this folder is not in test/check/rooms.json; add it with the rooms that it may import`,
    );
  }
}

function* sources(folder) {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) yield* sources(path);
    else if (entry.name.endsWith('.ts') && !entry.name.endsWith('.test.ts')) yield path;
  }
}

function check(path) {
  const file = ts.createSourceFile(path, readFileSync(path, 'utf8'), ts.ScriptTarget.Latest, true);
  const report = (node, text) => {
    const { line, character } = file.getLineAndCharacterOfPosition(node.getStart());
    faults.push(`${path}:${line + 1}:${character + 1}: ${text}`);
  };
  const isName = (node) =>
    (ts.isPropertyAccessExpression(node.parent) && node.parent.name === node) ||
    (ts.isPropertyAssignment(node.parent) && node.parent.name === node);
  const visit = (node) => {
    if (ts.isIdentifier(node) && node.text === 'Math' && !isName(node)) {
      const { parent } = node;
      const member = ts.isPropertyAccessExpression(parent) && parent.expression === node ? parent.name.text : undefined;
      if (member === undefined) report(node, 'Math may only be used as Math.name in a core room');
      else if (!ALLOWED_MATH.has(member))
        report(node, `Math.${member} differs between engines; use units/exact-math.ts`);
    }
    if (ts.isIdentifier(node) && FORBIDDEN_GLOBALS.has(node.text) && !isName(node))
      report(node, `${node.text} is not for a core room`);
    if (ts.isPropertyAccessExpression(node) && FORBIDDEN_METHODS.has(node.name.text))
      report(node, `${node.name.text} differs between engines`);
    if (ts.isBinaryExpression(node)) {
      const kind = node.operatorToken.kind;
      if (kind === ts.SyntaxKind.AsteriskAsteriskToken || kind === ts.SyntaxKind.AsteriskAsteriskEqualsToken) {
        report(node.operatorToken, '** differs between engines; use units/exact-math.ts');
      }
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
}

for (const room of core) if (existsSync(`src/${room}`)) for (const path of sources(`src/${room}`)) check(path);
for (const fault of faults) console.log(fault);
console.log(`${faults.length} faults in the core rooms`);
process.exitCode = faults.length === 0 ? 0 : 1;
