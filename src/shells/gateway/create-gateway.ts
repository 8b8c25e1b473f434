/** Answers every address of the contract and serves the interface, the same for each shell. */
import type { Work } from '../../workspace/work.ts';

export interface GatewayOrder {
  readonly work: Work;
  /** Folder of the built interface. Only files that lie in it now are ever served. */
  readonly interfaceFolder: string;
  /** Where the page comes from, such as `http://127.0.0.1:4173`: only its own requests may change anything. */
  readonly origin: string;
}

export type Gateway = (request: Request) => Promise<Response>;

export async function createGateway(_order: GatewayOrder): Promise<Gateway> {
  throw new Error('being written');
}
