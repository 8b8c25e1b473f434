/**
 * Reference problems of non-linear regression with certified answers.
 *
 * Source: National Institute of Standards and Technology, Statistical Reference Datasets (NIST StRD), nonlinear
 * regression, www.itl.nist.gov/div898/strd. Observations, start values and certified values (eleven digits) are those of
 * NIST; the derivatives are worked out here. Parameters b1, b2 ... are b[0], b[1] ...
 */
export interface ReferenceProblem {
  readonly name: string;
  readonly level: 'lower' | 'average' | 'higher';
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly model: (b: ArrayLike<number>, x: number) => number;
  readonly derivatives: (b: ArrayLike<number>, x: number) => readonly number[];
  /** Far from the solution, and nearer. */
  readonly starts: readonly [readonly number[], readonly number[]];
  readonly parameters: readonly number[];
  readonly standardDeviations: readonly number[];
  readonly sumOfSquares: number;
  readonly residualStandardDeviation: number;
}

const { exp, log } = Math;
const ladder = (count: number, first: number, step: number) =>
  Array.from({ length: count }, (_, i) => first + i * step);

const misra1a: ReferenceProblem = {
  name: 'Misra1a',
  level: 'lower',
  x: [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760],
  y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
  model: (b, x) => b[0] * (1 - exp(-b[1] * x)),
  derivatives: (b, x) => [1 - exp(-b[1] * x), b[0] * x * exp(-b[1] * x)],
  starts: [
    [500, 0.0001],
    [250, 0.0005],
  ],
  parameters: [2.3894212918e2, 5.5015643181e-4],
  standardDeviations: [2.7070075241, 7.2668688436e-6],
  sumOfSquares: 1.2455138894e-1,
  residualStandardDeviation: 1.018787633e-1,
};

const chwirut2: ReferenceProblem = {
  name: 'Chwirut2',
  level: 'lower',
  x: [
    0.5, 1, 1.75, 3.75, 5.75, 0.875, 2.25, 3.25, 5.25, 0.75, 1.75, 2.75, 4.75, 0.625, 1.25, 2.25, 4.25, 0.5, 3, 0.75, 3,
    1.5, 6, 3, 6, 1.5, 3, 0.5, 2, 4, 0.75, 2, 5, 0.75, 2.25, 3.75, 5.75, 3, 0.75, 2.5, 4, 0.75, 2.5, 4, 0.75, 2.5, 4,
    0.5, 6, 3, 0.5, 2.75, 0.5, 1.75,
  ],
  y: [
    92.9, 57.1, 31.05, 11.5875, 8.025, 63.6, 21.4, 14.25, 8.475, 63.8, 26.8, 16.4625, 7.125, 67.3, 41, 21.15, 8.175,
    81.5, 13.12, 59.9, 14.62, 32.9, 5.44, 12.56, 5.44, 32, 13.95, 75.8, 20, 10.42, 59.5, 21.67, 8.55, 62, 20.2, 7.76,
    3.75, 11.81, 54.7, 23.7, 11.55, 61.3, 17.7, 8.74, 59.2, 16.3, 8.62, 81, 4.87, 14.62, 81.7, 17.17, 81.3, 28.9,
  ],
  model: (b, x) => exp(-b[0] * x) / (b[1] + b[2] * x),
  derivatives: (b, x) => {
    const value = exp(-b[0] * x) / (b[1] + b[2] * x);
    return [-x * value, -value / (b[1] + b[2] * x), (-x * value) / (b[1] + b[2] * x)];
  },
  starts: [
    [0.1, 0.01, 0.02],
    [0.15, 0.008, 0.01],
  ],
  parameters: [1.6657666537e-1, 5.1653291286e-3, 1.2150007096e-2],
  standardDeviations: [3.830328681e-2, 6.6621605126e-4, 1.5304234767e-3],
  sumOfSquares: 5.1304802941e2,
  residualStandardDeviation: 3.171713304,
};

const danWood: ReferenceProblem = {
  name: 'DanWood',
  level: 'lower',
  x: [1.309, 1.471, 1.49, 1.565, 1.611, 1.68],
  y: [2.138, 3.421, 3.597, 4.34, 4.882, 5.66],
  model: (b, x) => b[0] * x ** b[1],
  derivatives: (b, x) => [x ** b[1], b[0] * log(x) * x ** b[1]],
  starts: [
    [1, 5],
    [0.7, 4],
  ],
  parameters: [7.6886226176e-1, 3.8604055871],
  standardDeviations: [1.828197386e-2, 5.1726610913e-2],
  sumOfSquares: 4.3173084083e-3,
  residualStandardDeviation: 3.2853114039e-2,
};

const lanczos3: ReferenceProblem = {
  name: 'Lanczos3',
  level: 'lower',
  x: ladder(24, 0, 0.05),
  y: [
    2.5134, 2.0443, 1.6684, 1.3664, 1.1232, 0.9269, 0.7679, 0.6389, 0.5338, 0.4479, 0.3776, 0.3197, 0.272, 0.2325,
    0.1997, 0.1723, 0.1493, 0.1301, 0.1138, 0.1, 0.0883, 0.0783, 0.0698, 0.0624,
  ],
  model: (b, x) => b[0] * exp(-b[1] * x) + b[2] * exp(-b[3] * x) + b[4] * exp(-b[5] * x),
  derivatives: (b, x) => [0, 2, 4].flatMap((k) => [exp(-b[k + 1] * x), -x * b[k] * exp(-b[k + 1] * x)]),
  starts: [
    [1.2, 0.3, 5.6, 5.5, 6.5, 7.6],
    [0.5, 0.7, 3.6, 4.2, 4, 6.3],
  ],
  parameters: [8.6816414977e-2, 9.5498101505e-1, 8.4400777463e-1, 2.9515951832, 1.5825685901, 4.9863565084],
  standardDeviations: [
    1.7197908859e-2, 9.7041624475e-2, 4.1488663282e-2, 1.0766312506e-1, 5.8371576281e-2, 3.4436403035e-2,
  ],
  sumOfSquares: 1.6117193594e-8,
  residualStandardDeviation: 2.9923229172e-5,
};

const mgh17: ReferenceProblem = {
  name: 'MGH17',
  level: 'average',
  x: ladder(33, 0, 10),
  y: [
    0.844, 0.908, 0.932, 0.936, 0.925, 0.908, 0.881, 0.85, 0.818, 0.784, 0.751, 0.718, 0.685, 0.658, 0.628, 0.603, 0.58,
    0.558, 0.538, 0.522, 0.506, 0.49, 0.478, 0.467, 0.457, 0.448, 0.438, 0.431, 0.424, 0.42, 0.414, 0.411, 0.406,
  ],
  model: (b, x) => b[0] + b[1] * exp(-x * b[3]) + b[2] * exp(-x * b[4]),
  derivatives: (b, x) => [1, exp(-x * b[3]), exp(-x * b[4]), -x * b[1] * exp(-x * b[3]), -x * b[2] * exp(-x * b[4])],
  starts: [
    [50, 150, -100, 1, 2],
    [0.5, 1.5, -1, 0.01, 0.02],
  ],
  parameters: [3.7541005211e-1, 1.9358469127, -1.4646871366, 1.286753464e-2, 2.2122699662e-2],
  standardDeviations: [2.0723153551e-3, 2.2031669222e-1, 2.2175707739e-1, 4.4861358114e-4, 8.9471996575e-4],
  sumOfSquares: 5.4648946975e-5,
  residualStandardDeviation: 1.3970497866e-3,
};

const mgh09: ReferenceProblem = {
  name: 'MGH09',
  level: 'higher',
  x: [4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625],
  y: [0.1957, 0.1947, 0.1735, 0.16, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246],
  model: (b, x) => (b[0] * (x * x + x * b[1])) / (x * x + x * b[2] + b[3]),
  derivatives: (b, x) => {
    const below = x * x + x * b[2] + b[3];
    const value = (b[0] * (x * x + x * b[1])) / below;
    return [(x * x + x * b[1]) / below, (b[0] * x) / below, (-x * value) / below, -value / below];
  },
  starts: [
    [25, 39, 41.5, 39],
    [0.25, 0.39, 0.415, 0.39],
  ],
  parameters: [1.9280693458e-1, 1.9128232873e-1, 1.2305650693e-1, 1.3606233068e-1],
  standardDeviations: [1.1435312227e-2, 1.9633220911e-1, 8.0842031232e-2, 9.0025542308e-2],
  sumOfSquares: 3.0750560385e-4,
  residualStandardDeviation: 6.6279236551e-3,
};

const thurber: ReferenceProblem = {
  name: 'Thurber',
  level: 'higher',
  x: [
    -3.067, -2.981, -2.921, -2.912, -2.84, -2.797, -2.702, -2.699, -2.633, -2.481, -2.363, -2.322, -1.501, -1.46,
    -1.274, -1.212, -1.1, -1.046, -0.915, -0.714, -0.566, -0.545, -0.4, -0.309, -0.109, -0.103, 0.01, 0.119, 0.377,
    0.79, 0.963, 1.006, 1.115, 1.572, 1.841, 2.047, 2.2,
  ],
  y: [
    80.574, 84.248, 87.264, 87.195, 89.076, 89.608, 89.868, 90.101, 92.405, 95.854, 100.696, 101.06, 401.672, 390.724,
    567.534, 635.316, 733.054, 759.087, 894.206, 990.785, 1090.109, 1080.914, 1122.643, 1178.351, 1260.531, 1273.514,
    1288.339, 1327.543, 1353.863, 1414.509, 1425.208, 1421.384, 1442.962, 1464.35, 1468.705, 1447.894, 1457.628,
  ],
  model: (b, x) => (b[0] + b[1] * x + b[2] * x ** 2 + b[3] * x ** 3) / (1 + b[4] * x + b[5] * x ** 2 + b[6] * x ** 3),
  derivatives: (b, x) => {
    const below = 1 + b[4] * x + b[5] * x ** 2 + b[6] * x ** 3;
    const value = (b[0] + b[1] * x + b[2] * x ** 2 + b[3] * x ** 3) / below;
    return [...[1, x, x ** 2, x ** 3].map((v) => v / below), ...[x, x ** 2, x ** 3].map((v) => (-v * value) / below)];
  },
  starts: [
    [1000, 1000, 400, 40, 0.7, 0.3, 0.03],
    [1300, 1500, 500, 75, 1, 0.4, 0.05],
  ],
  parameters: [
    1.28813968e3, 1.4910792535e3, 5.8323836877e2, 7.5416644291e1, 9.6629502864e-1, 3.9797285797e-1, 4.9727297349e-2,
  ],
  standardDeviations: [
    4.6647963344, 3.9571156086e1, 2.8698696102e1, 5.567537027, 3.1333340687e-2, 1.4984928198e-2, 6.5842344623e-3,
  ],
  sumOfSquares: 5.6427082397e3,
  residualStandardDeviation: 1.3714600784e1,
};

const rat43: ReferenceProblem = {
  name: 'Rat43',
  level: 'higher',
  x: ladder(15, 1, 1),
  y: [16.08, 33.83, 65.8, 97.2, 191.55, 326.2, 386.87, 520.53, 590.03, 651.92, 724.93, 699.56, 689.96, 637.56, 717.41],
  model: (b, x) => b[0] / (1 + exp(b[1] - b[2] * x)) ** (1 / b[3]),
  derivatives: (b, x) => {
    const growth = exp(b[1] - b[2] * x);
    const share = (1 + growth) ** (-1 / b[3]);
    const slope = (-b[0] * share * growth) / ((1 + growth) * b[3]);
    return [share, slope, -x * slope, (b[0] * share * log(1 + growth)) / b[3] ** 2];
  },
  starts: [
    [100, 10, 1, 1],
    [700, 5, 0.75, 1.3],
  ],
  parameters: [6.996415127e2, 5.2771253025, 7.5962938329e-1, 1.2792483859],
  standardDeviations: [1.6302297817e1, 2.0828735829, 1.9566123451e-1, 6.8761936385e-1],
  sumOfSquares: 8.786404908e3,
  residualStandardDeviation: 2.8262414662e1,
};

const eckerle4: ReferenceProblem = {
  name: 'Eckerle4',
  level: 'higher',
  x: [...ladder(7, 400, 5), ...ladder(21, 435, 1.5), ...ladder(7, 470, 5)],
  y: [
    0.0001575, 0.0001699, 0.000235, 0.0003102, 0.0004917, 0.000871, 0.0017418, 0.00464, 0.0065895, 0.0097302, 0.0149002,
    0.023731, 0.0401683, 0.0712559, 0.1264458, 0.2073413, 0.2902366, 0.3445623, 0.3698049, 0.3668534, 0.3106727,
    0.2078154, 0.1164354, 0.0616764, 0.03372, 0.0194023, 0.0117831, 0.0074357, 0.0022732, 0.00088, 0.0004579, 0.0002345,
    0.0001586, 0.0001143, 0.000071,
  ],
  model: (b, x) => (b[0] / b[1]) * exp(-0.5 * ((x - b[2]) / b[1]) ** 2),
  derivatives: (b, x) => {
    const z = (x - b[2]) / b[1];
    const bell = exp(-0.5 * z * z) / b[1];
    return [bell, (b[0] * bell * (z * z - 1)) / b[1], (b[0] * bell * z) / b[1]];
  },
  starts: [
    [1, 10, 500],
    [1.5, 5, 450],
  ],
  parameters: [1.5543827178, 4.0888321754, 4.5154121844e2],
  standardDeviations: [1.5408051163e-2, 4.6803020753e-2, 4.6800518816e-2],
  sumOfSquares: 1.4635887487e-3,
  residualStandardDeviation: 6.7629245447e-3,
};

const mgh10: ReferenceProblem = {
  name: 'MGH10',
  level: 'higher',
  x: ladder(16, 50, 5),
  y: [34780, 28610, 23650, 19630, 16370, 13720, 11540, 9744, 8261, 7030, 6005, 5147, 4427, 3820, 3307, 2872],
  model: (b, x) => b[0] * exp(b[1] / (x + b[2])),
  derivatives: (b, x) => {
    const power = exp(b[1] / (x + b[2]));
    return [power, (b[0] * power) / (x + b[2]), (-b[0] * power * b[1]) / (x + b[2]) ** 2];
  },
  starts: [
    [2, 400000, 25000],
    [0.02, 4000, 250],
  ],
  parameters: [5.609636471e-3, 6.1813463463e3, 3.4522363462e2],
  standardDeviations: [1.5687892471e-4, 2.3309021107e1, 7.8486103508e-1],
  sumOfSquares: 8.7945855171e1,
  residualStandardDeviation: 2.6009740065,
};

const boxBod: ReferenceProblem = {
  name: 'BoxBOD',
  level: 'higher',
  x: [1, 2, 3, 5, 7, 10],
  y: [109, 149, 149, 191, 213, 224],
  model: (b, x) => b[0] * (1 - exp(-b[1] * x)),
  derivatives: (b, x) => [1 - exp(-b[1] * x), b[0] * x * exp(-b[1] * x)],
  starts: [
    [1, 1],
    [100, 0.75],
  ],
  parameters: [2.1380940889e2, 5.4723748542e-1],
  standardDeviations: [1.2354515176e1, 1.0455993237e-1],
  sumOfSquares: 1.1680088766e3,
  residualStandardDeviation: 1.7088072423e1,
};

export const REFERENCE_PROBLEMS: readonly ReferenceProblem[] = [
  misra1a,
  chwirut2,
  danWood,
  lanczos3,
  mgh17,
  mgh09,
  thurber,
  rat43,
  eckerle4,
  mgh10,
  boxBod,
];
