/** Shown before anything moves. Own words; the usual caution of games that flash. */
export const CAUTION: readonly string[] = [
  'The game of this page flashes white boxes on a dark picture. Flashing light can bring on a seizure in a small number of people, also in some who have never had one.',
  'The page leaves the flashes out and draws their boxes as outlines. You can have them shown in full; then the picture is small, so that its flashes fill less of the eye than the area for which published limits count them (WCAG 2.2, technique G176), if you do not sit closer than usual or magnify the page. That makes it safer; it is no guarantee.',
  'Do not start if you, or somebody who can see this screen, have had a seizure or an unusual reaction to flashing light; ask a doctor first. Play in a lit room. Stop at once, look away and get help if you feel dizzy, see strange things, twitch or lose track.',
  'Escape stops all motion, as does leaving this window.',
];

/** Beside the choice, while full flashes are shown. */
export const FULL_CAUTION = 'Every shot now flashes. Look away and stop with Escape if you feel unwell.';

/** On every screen: what is tried here may be tried on a real screen next. */
export const REAL_SCREEN_CAUTION =
  'Nothing here has to be opened or soldered. A real picture tube holds tens of thousands of volts, also long after it was unplugged, and mains voltage can kill: leave the inside of displays and power supplies to qualified people, under your local codes. Do not look into the lens of a projector.';
