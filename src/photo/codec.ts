/** The picture codec, set up once for the whole program. */
import sharp from 'sharp';

// Every file is decoded once; a cache of decoded pictures would only hold memory.
sharp.cache(false);

export { sharp };
