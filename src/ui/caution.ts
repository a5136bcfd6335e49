/** Shown before anything moves. Own words; the usual caution of games that flash. */
export const CAUTION: readonly string[] = [
  'The game of this page flashes white boxes on a dark picture. Flashing light can bring on a seizure in a small number of people, also in some who have never had one.',
  'The page leaves the flashes out and draws their boxes as outlines. You can have them shown in full; then the picture is small, so that its flashes fill less of the eye than the area for which published limits count them (WCAG 2.2, technique G176), if you do not sit closer than usual or magnify the page. That makes it safer; it is no guarantee.',
  'Do not start if you, or somebody who can see this screen, have had a seizure or an unusual reaction to flashing light; ask a doctor first. Play in a lit room. Stop at once, look away and get help if you feel dizzy, see strange things, twitch or lose track.',
  'Escape stops all motion, as does leaving this window.',
];

/** Asked before the first full flashes. Own words; area: WCAG 2.2, technique G176; lit room, distance, tiredness: usual advice of epilepsy charities. */
export const FULL_GATE: readonly string[] = [
  'From then on nothing is left out: at every pull of the trigger the picture goes black, and white boxes or the whole picture light up and go out again, as fast as the console draws, up to 60 pictures a second. A shot of the page’s own game is over in less than a third of a second; one pull after another makes it flash on and on. An image of your own may flash without any pull.',
  'One picture is shown, 144 by 135 CSS pixels. That is less than the area for which published limits count flashes (WCAG 2.2, technique G176), if you sit as far from the screen as usual and do not magnify the page. It is no guarantee.',
  'To stop: press Escape or the button Pause, or leave this window. If you feel unwell, look away and leave the screen at once.',
  'Sit back, in a lit room. Do not go on when you are tired, or when somebody who can see this screen may be sensitive to flashing light.',
];

/** Beside the choice, while full flashes are shown. */
export const FULL_CAUTION = 'Every shot now flashes. Look away and stop with Escape if you feel unwell.';

/** On every screen: what is tried here may be tried on a real screen next. */
export const REAL_SCREEN_CAUTION =
  'Nothing here has to be opened or soldered. A real picture tube holds tens of thousands of volts, also long after it was unplugged, and mains voltage can kill: leave the inside of displays and power supplies to qualified people, under your local codes. Do not look into the lens of a projector.';
