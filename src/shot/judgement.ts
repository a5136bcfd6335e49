import type { Truth } from './truth.ts';

/** What the program said: a target, none, or nothing by the deadline. */
export type Said =
  | { readonly kind: 'target'; readonly target: number }
  | { readonly kind: 'none' }
  | { readonly kind: 'nothing' };

export type Judgement = 'hit' | 'wrong target' | 'miss' | 'false hit' | 'rightly none' | 'no decision' | 'edge';

/** The verdict of the program against the truth. */
export function judge(truth: Truth, said: Said): Judgement {
  if (truth.kind === 'edge') return 'edge';
  if (said.kind === 'nothing') return 'no decision';
  if (truth.kind === 'nothing') return said.kind === 'none' ? 'rightly none' : 'false hit';
  if (said.kind === 'none') return 'miss';
  return said.target === truth.target ? 'hit' : 'wrong target';
}

/** The program was right. An edge is neither right nor wrong. */
export const isRightJudgement = (judgement: Judgement): boolean => judgement === 'hit' || judgement === 'rightly none';
