/** A program that saves entries without end and says of each when it is safe. It is meant to be killed. */
import { randomBytes } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { hashBytes } from '../../src/logbook/hash.ts';
import { openLogbook } from '../../src/logbook/open-logbook.ts';
import { sampleReading } from '../report/sample-reading.ts';
import { jpeg } from '../workspace/jpeg.ts';

const [folder, photos, name] = process.argv.slice(2) as [string, string, string];
const opening = await openLogbook({ folder, create: true, softwareVersion: '1' });
if (opening.outcome === 'refused') throw new Error(opening.code);
process.stdout.write('open\n');
for (let step = 1; ; step++) {
  const shots = (['left-lens', 'right-lens'] as const).map((role) => {
    const bytes = jpeg(`${name} ${step} ${role} ${randomBytes(150_000).toString('base64')}`);
    const path = join(photos, `${name}-${role}.jpg`);
    writeFileSync(path, bytes);
    return { role, path, name: `${role}.jpg`, sha256: hashBytes(bytes) };
  });
  const reading = {
    ...sampleReading,
    shots: shots.map(({ role, sha256 }, index) => ({ ...sampleReading.shots[index]!, role, sha256 })),
  };
  const kept = await opening.logbook.add({ house: null, shots, reading, note: `${name} ${step}` });
  if (kept.outcome === 'refused') throw new Error(`${kept.code} ${JSON.stringify(kept.facts)}`);
  process.stdout.write(`${kept.id}\n`);
}
