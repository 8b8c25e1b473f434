/** A child process of the accuracy bench: measures one set for each order that it is sent. */
import { measureSet, type SetOrder } from './measure-set.ts';

process.on('message', (order: SetOrder) => {
  measureSet(order).then(
    (result) => process.send!(result),
    (error: unknown) => {
      console.error(error);
      process.exit(1);
    },
  );
});
