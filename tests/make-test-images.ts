/**
 * Renders test-images/: sets of photographs of the Meridian, each with a fault and its exact truth.
 *
 *   npx tsx tests/make-test-images.ts [name ...]
 *
 * The same program gives the same bytes; whoever changes the chart or the scene runs this again.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { TruthRecord } from '../src/scene/truth-record.ts';
import { writeSet } from '../src/shells/command/rehearse.ts';
import { FILM_UM, folderName, IMAGE_SETS, type ImageSet, planImages, TEST_IMAGES } from './scene/test-image-sets.ts';

async function render(images: ImageSet): Promise<void> {
  const { set, series } = planImages(images);
  await writeSet(set, join(TEST_IMAGES, folderName(images)), { series });
  console.log(folderName(images));
}

function describeFolder(): string {
  const rows = IMAGE_SETS.map((set) => {
    const truth: TruthRecord = JSON.parse(readFileSync(join(TEST_IMAGES, folderName(set), 'truth.json'), 'utf8'));
    const { misalignment: m, eyes } = truth;
    const signed = ({ value }: { value: number }, digits: number) => {
      const size = Math.abs(value).toFixed(digits);
      return value < 0 && Number(size) > 0 ? `−${size}` : size;
    };
    return [
      `[${folderName(set)}](${folderName(set)})`,
      set.fault,
      signed(m.vertical_offset_pct, 3),
      signed(m.horizontal_offset_pct, 3),
      signed(m.rotation_deg, 3),
      signed(m.size_pct, 3),
      `${signed(m.keystone_h_pct, 3)} / ${signed(m.keystone_v_pct, 3)}`,
      eyes.assignment,
      `${eyes.crosstalk_left_pct.value.toPrecision(3)} / ${eyes.crosstalk_right_pct.value.toPrecision(3)}`,
    ].join(' | ');
  });
  return `# Test images

These photographs are **rendered, not photographed**. They show the projected alignment target in the Meridian, an
invented house (412 seats, a 10.4 m wide metallic screen, 27 m throw), as a camera of six megapixels at a seat 15 m
from the screen would take it: through the left lens of the glasses, through the right and, but for four sets, without glasses
(\`bare.jpg\`). The film moves in the gate as the default of a reading says: ${FILM_UM / 1000} mm from frame to frame, standard
deviation in each direction. The pair of photographs shows what it did in between; the photograph without glasses does not.

Each folder has \`left-lens.jpg\`, \`right-lens.jpg\` and \`truth.json\` (\`twinplumb.truth/1\`): the misalignment that the
pictures have exactly with the film at rest, where the film stood in each exposure, the leaks, the transforms from the chart to
the photographs, the lens distortion, light and noise. Figures are right-eye picture minus left-eye picture, in percent of the
picture height and in degrees;
\`crosstalk\` is the wrong picture over the right one, through the left and the right lens. \`meridian.house.json\` holds
the house's facts for \`--house\`.

\`npx tsx tests/make-test-images.ts\` renders them again, with the same bytes on the same machine, and writes this page.

| set | fault | vertical % | horizontal % | roll ° | size % | keystone h / v % | eyes | crosstalk % |
|---|---|---|---|---|---|---|---|---|
${rows.map((row) => `| ${row} |`).join('\n')}
`;
}

const wanted = process.argv.slice(2);
for (const set of IMAGE_SETS) if (wanted.length === 0 || wanted.includes(set.name)) await render(set);
writeFileSync(join(TEST_IMAGES, 'README.md'), describeFolder());
