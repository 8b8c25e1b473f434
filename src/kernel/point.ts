/** A point of the plane. The frame (photo in px, chart in ih, film in mm) is named by whoever holds it. */
export interface Point {
  readonly x: number;
  readonly y: number;
}
