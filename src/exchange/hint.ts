/** The remark beside a key of a skeleton, by the path of the key. */
export type Hint = (...path: (string | number)[]) => string;
