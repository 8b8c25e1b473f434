/** A child process of the crosstalk bench: measures one house at all leaks for each order that it is sent. */
import { type LeakOrder, measureLeaks } from './measure-leaks.ts';

process.on('message', (order: LeakOrder) => {
  measureLeaks(order).then(
    (result) => process.send!(result),
    (error: unknown) => {
      console.error(error);
      process.exit(1);
    },
  );
});
