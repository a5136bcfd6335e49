/** Shown before anything moves. Own words; the usual caution of games that flash. */
export const CAUTION: readonly string[] = [
  'This game flashes white boxes on a dark screen. Flashing light can bring on a seizure in a small number of people, also in some who have never had one.',
  'Do not start it if you, or somebody who can see this screen, have had a seizure or an unusual reaction to flashing light; ask a doctor first. Stop at once, look away and get help if you feel dizzy, see strange things, twitch or lose track.',
  'The picture is kept so small that its flashes fill less of the eye than the area for which published limits count them (WCAG 2.2, technique G176), if you do not sit closer than usual or magnify the page. That makes it safer; it is no guarantee.',
  'Escape stops all motion, as does leaving this window.',
];
