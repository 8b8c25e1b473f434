/** Floor of light of which the part `depolarization` has lost its polarization: half of it leaks, half of it is signal. */
export function floorOfDepolarization(depolarization: number, extinction = 0): number {
  const unpolarized = (depolarization * (1 + extinction)) / 2;
  const kept = 1 - depolarization;
  return (kept * extinction + unpolarized) / (kept + unpolarized);
}
