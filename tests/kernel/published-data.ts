/** Observations of published examples, for every test that works them. */

/** JCGM 100 (GUM), H.2: volts, amperes, radians, observed together. From memory; they reproduce every published output. */
export const OHM: readonly (readonly number[])[] = [
  [5.007, 4.994, 5.005, 4.99, 4.999],
  [19.663e-3, 19.639e-3, 19.64e-3, 19.685e-3, 19.678e-3],
  [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
];

/** JCGM 100 (GUM), H.3: degrees, and by how much the thermometer is to be corrected. */
export const THERMOMETER: readonly (readonly [number, number])[] = [
  [21.521, -0.171],
  [22.012, -0.169],
  [22.512, -0.166],
  [23.003, -0.159],
  [23.507, -0.164],
  [23.999, -0.165],
  [24.513, -0.156],
  [25.002, -0.157],
  [25.503, -0.159],
  [26.01, -0.161],
  [26.511, -0.16],
];

/** JCGM 100 (GUM), H.5: ten days, above 10 V. */
export const VOLTAGE = {
  means_uV: [172, 116, 13, 144, 106, 31, 60, 125, 163, 41],
  deviations_uV: [60, 77, 111, 101, 67, 93, 80, 73, 88, 86],
  perDay: 5,
} as const;

/** NIST StRD SiRstv; certified values as read in a public test file. */
export const SILICON: readonly (readonly number[])[] = [
  [196.3052, 196.124, 196.189, 196.2569, 196.3403],
  [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
  [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
  [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
  [196.2119, 196.1051, 196.185, 196.0052, 196.209],
];

/** AIAG, Measurement Systems Analysis, 4th ed., appendix: operators, parts, trials; data as found in several public repositories. */
export const GAUGE: readonly (readonly (readonly number[])[])[] = [
  [
    [0.29, 0.41, 0.64],
    [-0.56, -0.68, -0.58],
    [1.34, 1.17, 1.27],
    [0.47, 0.5, 0.64],
    [-0.8, -0.92, -0.84],
    [0.02, -0.11, -0.21],
    [0.59, 0.75, 0.66],
    [-0.31, -0.2, -0.17],
    [2.26, 1.99, 2.01],
    [-1.36, -1.25, -1.31],
  ],
  [
    [0.08, 0.25, 0.07],
    [-0.47, -1.22, -0.68],
    [1.19, 0.94, 1.34],
    [0.01, 1.03, 0.2],
    [-0.56, -1.2, -1.28],
    [-0.2, 0.22, 0.06],
    [0.47, 0.55, 0.83],
    [-0.63, 0.08, -0.34],
    [1.8, 2.12, 2.19],
    [-1.68, -1.62, -1.5],
  ],
  [
    [0.04, -0.11, -0.15],
    [-1.38, -1.13, -0.96],
    [0.88, 1.09, 0.67],
    [0.14, 0.2, 0.11],
    [-1.46, -1.07, -1.45],
    [-0.29, -0.67, -0.49],
    [0.02, 0.01, 0.21],
    [-0.46, -0.56, -0.49],
    [1.77, 1.45, 1.87],
    [-1.49, -1.77, -2.16],
  ],
];
