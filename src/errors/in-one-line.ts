/** What happened and what to do next as running text: a message that ends without a stop is given one. */
export const inOneLine = ({
  message,
  remedy,
}: {
  readonly message: string;
  readonly remedy: string;
}): string => `${/[.!?:]$/.test(message) ? message : `${message}.`} ${remedy}`;
