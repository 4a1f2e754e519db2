/** Ways in which a document leaves the clinic. */
export const WAYS = ["post", "e-mail", "by hand", "fax", "shared record"] as const;
