/** Which camera, how large its picture is, and how many frames make a shot. */
import { Choice, ListChoice } from '../parts/choice.tsx';
import { translate } from '../../../wording/translate.ts';
import { FRAME_COUNTS, type FrameCount } from './remembered-choice.ts';
import { nameOfSize, type Size, sizeOfName } from './resolutions.ts';
import type { CameraView } from './use-camera.ts';

export function CameraSettings({ camera, frame }: { readonly camera: CameraView; readonly frame: Size | undefined }) {
  const { devices, sizes, choice, track, choose } = camera;
  const current = track?.getSettings().deviceId ?? choice.device;
  const isGiven = frame !== undefined && nameOfSize(frame) !== nameOfSize(choice.size);
  const offered = sizes.some((size) => nameOfSize(size) === nameOfSize(choice.size)) ? sizes : [choice.size, ...sizes];
  return (
    <div className="camera-settings">
      <ListChoice
        label={translate('camera.device')}
        options={devices.map(({ id, label }, i) => ({
          value: id,
          label: label === '' ? translate('camera.device-number', { number: i + 1 }) : label,
        }))}
        value={current}
        onChange={(device) => choose({ device })}
      />
      <ListChoice
        label={translate('camera.size')}
        options={offered.map((size) => ({ value: nameOfSize(size), label: translate('camera.size-of', { ...size }) }))}
        value={nameOfSize(choice.size)}
        onChange={(name) => choose({ size: sizeOfName(name)! })}
        hint={isGiven ? translate('camera.size-given', { ...frame }) : undefined}
      />
      <Choice
        label={translate('camera.frames')}
        options={FRAME_COUNTS.map((count) => ({ value: String(count), label: String(count) }))}
        value={String(choice.frames)}
        onChange={(value) => choose({ frames: Number(value) as FrameCount })}
        hint={translate('camera.frames-hint')}
      />
    </div>
  );
}
