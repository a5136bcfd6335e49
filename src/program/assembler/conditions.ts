import type { Assembly, Condition } from './assembly.ts';
import { readName } from './expression-parser.ts';
import { Fault, spanOf } from './messages.ts';
import type { Token } from './token.ts';
import type { TokenCursor } from './token-cursor.ts';
import { refuseDirective } from './unsupported.ts';

/** Whether lines are assembled: `.if` and its kin. They are read in lines that are left out, too. */

const ANSWERED = ['.if', '.ifdef', '.ifndef', '.ifblank', '.ifnblank', '.ifconst'];
/** Refused by their names, but each has an .endif of its own. */
const UNANSWERED = ['.ifref', '.ifnref', '.ifp02', '.ifp4510', '.ifp816', '.ifpc02', '.ifpsc02'];
const OPENERS = new Set([...ANSWERED, ...UNANSWERED]);
const MOST_OPEN = 200;

export const CONDITION_NAMES = [...ANSWERED, '.elseif', '.else', '.endif'];

export const isConditionCommand = ({ kind, text }: Token): boolean =>
  kind === 'directive' && (OPENERS.has(text) || text === '.elseif' || text === '.else' || text === '.endif');

/** Read one command of a condition; the cursor stands behind its name. Errors: a Fault; the condition goes on. */
export function readCondition(token: Token, cursor: TokenCursor, assembly: Assembly): void {
  if (OPENERS.has(token.text)) open(token, cursor, assembly);
  else if (token.text === '.endif') close(token, cursor, assembly);
  else next(token, cursor, assembly);
}

/** A command whose line has a lexical fault: none of the branches from here on is taken. */
export function readBrokenCondition(token: Token, assembly: Assembly): void {
  const { conditions } = assembly;
  const { text } = token;
  const condition = conditions[conditions.length - 1];
  if (OPENERS.has(text)) pushCondition(token, assembly);
  else if (text === '.endif') conditions.pop();
  else if (condition !== undefined) {
    condition.isActive = false;
    condition.isDecided = true;
  }
}

/** Report every condition that is still open at the end. */
export function reportOpenConditions({ conditions, messages }: Assembly): void {
  for (const { token, origin } of conditions) {
    messages.error('ASM_BLOCK_OPEN', { name: token.text, end: '.endif', hint: '' }, spanOf(token), origin);
  }
}

function open(token: Token, cursor: TokenCursor, assembly: Assembly): void {
  const condition = pushCondition(token, assembly);
  if (!condition.isOuterActive) return;
  condition.isActive = holds(token, cursor, assembly);
  condition.isDecided = condition.isActive;
}

/** A condition that no branch is taken of yet, and none will be. */
function pushCondition(token: Token, { isActive: isOuterActive, conditions, origin }: Assembly): Condition {
  if (conditions.length >= MOST_OPEN)
    throw new Fault('ASM_LIMIT', { what: 'conditions inside each other', limit: `${MOST_OPEN}` }, spanOf(token));
  const condition: Condition = { token, origin, isOuterActive, isActive: false, isDecided: true, hasElse: false };
  conditions.push(condition);
  return condition;
}

function next(token: Token, cursor: TokenCursor, assembly: Assembly): void {
  const condition = assembly.conditions[assembly.conditions.length - 1];
  if (condition === undefined) throw new Fault('ASM_BLOCK_CLOSE', { name: token.text, begin: '.if' }, spanOf(token));
  if (condition.hasElse) throw new Fault('ASM_ELSE_TWICE', { name: token.text }, spanOf(token));
  condition.isActive = false;
  if (token.text === '.else') {
    condition.hasElse = true;
    condition.isActive = condition.isOuterActive && !condition.isDecided;
    condition.isDecided = true;
    cursor.expectEnd();
  } else if (condition.isOuterActive && !condition.isDecided) {
    condition.isDecided = true;
    condition.isActive = holds(token, cursor, assembly);
    condition.isDecided = condition.isActive;
  }
}

function close(token: Token, cursor: TokenCursor, assembly: Assembly): void {
  if (assembly.conditions.pop() === undefined)
    throw new Fault('ASM_BLOCK_CLOSE', { name: token.text, begin: '.if' }, spanOf(token));
  cursor.expectEnd();
}

function holds(token: Token, cursor: TokenCursor, assembly: Assembly): boolean {
  const { text } = token;
  if (UNANSWERED.includes(text)) refuseDirective(token, CONDITION_NAMES);
  if (text === '.ifblank') return cursor.takeRest().length === 0;
  if (text === '.ifnblank') return cursor.takeRest().length > 0;
  const answer = ask(text, cursor, assembly);
  cursor.expectEnd();
  return answer;
}

function ask(text: string, cursor: TokenCursor, assembly: Assembly): boolean {
  if (text === '.ifconst') return assembly.isConstant(assembly.expression(cursor));
  if (text === '.if' || text === '.elseif') return assembly.constant(cursor, 'a condition') !== 0;
  const isRooted = cursor.isSign('::');
  const { name, path } = readName(cursor, isRooted);
  return assembly.isDefined(name, path, isRooted) === (text === '.ifdef');
}
