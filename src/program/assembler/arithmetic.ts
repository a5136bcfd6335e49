/**
 * Numbers of expressions: whole numbers with a sign, exact up to 53 bits; results beyond are refused. Comparisons give
 * 1 or 0. Bit operations see an endless two's complement.
 */
export type UnaryOperator = '-' | '+' | '~' | '!' | '<' | '>' | '^' | 'loword' | 'hiword';

export type BinaryOperator =
  | '*'
  | '/'
  | 'mod'
  | '&'
  | '^'
  | '<<'
  | '>>'
  | '+'
  | '-'
  | '|'
  | '='
  | '<>'
  | '<'
  | '>'
  | '<='
  | '>='
  | '&&'
  | 'xor'
  | '||'
  | 'max'
  | 'min';

/** Why there is no result: a division by zero, a number beyond 53 bits, a shift by less than 0 or more than 63. */
export type ArithmeticFault = 'division' | 'large' | 'shift';

const SHIFT_LIMIT = 64;
const floorMod = (value: number, modulus: number): number => value - Math.floor(value / modulus) * modulus;

/** Bytes and words of a number: `<` bits 0-7, `>` bits 8-15, `^` bits 16-23. */
export function applyUnary(operator: UnaryOperator, value: number): number {
  switch (operator) {
    case '+':
      return value;
    case '-':
      return 0 - value;
    case '~':
      return -1 - value;
    case '!':
      return value === 0 ? 1 : 0;
    case '<':
      return floorMod(value, 0x100);
    case '>':
      return floorMod(Math.floor(value / 0x100), 0x100);
    case '^':
      return floorMod(Math.floor(value / 0x10000), 0x100);
    case 'loword':
      return floorMod(value, 0x10000);
    case 'hiword':
      return floorMod(Math.floor(value / 0x10000), 0x10000);
  }
}

export function applyBinary(operator: BinaryOperator, a: number, b: number): number | ArithmeticFault {
  const result = compute(operator, a, b);
  if (typeof result === 'string') return result;
  return Number.isSafeInteger(result) ? result + 0 : 'large';
}

function compute(operator: BinaryOperator, a: number, b: number): number | ArithmeticFault {
  switch (operator) {
    case '*':
      return a * b;
    case '/':
      return b === 0 ? 'division' : Math.trunc(a / b);
    case 'mod':
      return b === 0 ? 'division' : a % b;
    case '&':
    case '^':
    case '|':
      return bitwise(operator, a, b);
    case '<<':
      return shiftLeft(a, b);
    case '>>':
      return shiftRight(a, b);
    case '+':
      return a + b;
    case '-':
      return a - b;
    case 'max':
      return Math.max(a, b);
    case 'min':
      return Math.min(a, b);
    default:
      return holds(operator, a, b) ? 1 : 0;
  }
}

type Comparison = '=' | '<>' | '<' | '>' | '<=' | '>=' | '&&' | 'xor' | '||';

function holds(operator: Comparison, a: number, b: number): boolean {
  switch (operator) {
    case '=':
      return a === b;
    case '<>':
      return a !== b;
    case '<':
      return a < b;
    case '>':
      return a > b;
    case '<=':
      return a <= b;
    case '>=':
      return a >= b;
    case '&&':
      return a !== 0 && b !== 0;
    case 'xor':
      return (a !== 0) !== (b !== 0);
    case '||':
      return a !== 0 || b !== 0;
  }
}

function bitwise(operator: '&' | '^' | '|', a: number, b: number): number {
  const isSmall = a === (a | 0) && b === (b | 0);
  if (isSmall) return operator === '&' ? a & b : operator === '^' ? a ^ b : a | b;
  const [x, y] = [BigInt(a), BigInt(b)];
  return Number(operator === '&' ? x & y : operator === '^' ? x ^ y : x | y);
}

function shiftLeft(value: number, count: number): number | ArithmeticFault {
  if (count < 0 || count >= SHIFT_LIMIT) return 'shift';
  const result = BigInt(value) << BigInt(count);
  return result > BigInt(Number.MAX_SAFE_INTEGER) || result < BigInt(-Number.MAX_SAFE_INTEGER)
    ? 'large'
    : Number(result);
}

/** Zeros come in from the left, at bit 63: for a negative number that is beyond what is kept exactly. */
function shiftRight(value: number, count: number): number | ArithmeticFault {
  if (count < 0 || count >= SHIFT_LIMIT) return 'shift';
  if (value < 0 && count > 0) return 'large';
  return Number(BigInt(value) >> BigInt(count));
}
