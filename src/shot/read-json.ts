/** Strings, and what opens, closes and parts in JSON. */
const TOKENS = /"(?:[^"\\]|\\.)*"|[{}[\]:]/g;

/** JSON as data; a byte order mark is left out. Errors: SyntaxError, also for a name that is given twice, of which JSON keeps one. */
export function readJson(text: string): unknown {
  const json = text.replace(/^\uFEFF/, '');
  const data: unknown = JSON.parse(json);
  checkNames(json);
  return data;
}

function checkNames(json: string): void {
  /** Names of the objects that are open; undefined stands for a list. */
  const open: (Set<string> | undefined)[] = [];
  let latest = '';
  for (const { 0: token, index } of json.matchAll(TOKENS)) {
    if (token === '{') open.push(new Set());
    else if (token === '[') open.push(undefined);
    else if (token === '}' || token === ']') open.pop();
    else if (token !== ':') latest = token;
    else {
      const names = open[open.length - 1]!;
      const name = JSON.parse(latest) as string;
      if (names.has(name))
        throw new SyntaxError(`line ${lineOf(json, index)}: ${latest} is given twice, expected once`);
      names.add(name);
    }
  }
}

const lineOf = (text: string, index: number): number => text.slice(0, index).split('\n').length;
