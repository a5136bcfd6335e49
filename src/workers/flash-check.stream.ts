import type { ShownSize, WorstFlash } from '../safety/flash-analyser.ts';
import { FAILING_CHANGES } from '../safety/flash-profile.ts';
import {
  careLines,
  flashAdvice,
  percentOf,
  placeText,
  profileOf,
  ruleText,
  tellingWorst,
  worstOf,
} from '../safety/flash-text.ts';
import type { StreamVerdict, WorstSecond } from '../safety/flash-watch.ts';
import type { StripesFound } from '../safety/stripes.ts';
import type { FlashCount, FlashFinding, FlashPicture, FlashStream } from './flash-check.api.ts';

/** What was watched, and how its pictures become ones that can be shown. */
export interface WatchedStream<Picture> {
  readonly stream: string;
  readonly watched: string;
  readonly verdicts: readonly StreamVerdict<Picture>[];
  readonly stripes: StripesFound | null;
  /** What has to be known before the verdict. */
  readonly first?: readonly string[];
  /** How large the pictures are seen, where that is one size. */
  readonly size?: ShownSize;
  /** What places are counted in. */
  readonly unit: 'dots' | 'CSS pixels';
  readonly shown: (picture: Picture) => Omit<FlashPicture, 'timeS'>;
}

/** Findings as plain data, in words where a person reads them. */
export function streamData<Picture>(watched: WatchedStream<Picture>): FlashStream {
  const { stream, verdicts, stripes, size, first = [] } = watched;
  return {
    stream,
    watched: watched.watched,
    findings: verdicts.map((verdict) => findingOf(verdict, watched)),
    care: [...first, ...careLines(verdicts[0]?.load ?? [], stripes)],
    advice: flashAdvice(verdicts, size),
  };
}

function findingOf<Picture>(verdict: StreamVerdict<Picture>, { unit, shown }: WatchedStream<Picture>): FlashFinding {
  const { id, title, source } = profileOf(verdict.profile);
  const second = verdict.worstSecond;
  return {
    profile: id,
    title,
    source,
    passes: verdict.passes,
    counts: tellingWorst(verdict.worst).map((worst) => countOf(worst, unit)),
    scenes: verdict.scenes.map(({ fromS, toS, passes, worst }) => {
      const most = worstOf(worst);
      return { fromS, toS, passes, worst: most === null ? null : countOf(most, unit) };
    }),
    pictures: second === null ? [] : picturesOf(second, shown),
    left: second?.left ?? 0,
  };
}

/** Those of the worst second, and the one before the first of them. */
const picturesOf = <Picture>(
  { before, pictures }: WorstSecond<Picture>,
  shown: WatchedStream<Picture>['shown'],
): FlashPicture[] =>
  (before === null ? pictures : [before, ...pictures]).map(({ timeS, picture }) => ({ timeS, ...shown(picture) }));

const countOf = (worst: WorstFlash, unit: 'dots' | 'CSS pixels'): FlashCount => ({
  rule: ruleText(worst),
  changes: worst.changes,
  limit: FAILING_CHANGES - 1,
  isAbove: worst.changes >= FAILING_CHANGES,
  timeS: worst.timeS,
  where: placeText(worst, unit),
  areaPercent: percentOf(worst.share),
});
