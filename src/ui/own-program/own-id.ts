const OWN = 'own:';

/** How a bench and an address name an own program: its files are elsewhere, and a new build of it is the same program. */
export const ownId = (imageName: string): string => `${OWN}${imageName}`;

/** The name of the image, if a bench or an address names an own one. */
export const ownImageName = (strategy: string): string | undefined =>
  strategy.startsWith(OWN) ? strategy.slice(OWN.length) : undefined;
