// `node tools/book.mjs OUT.zip PHOTO.jpg`: a phone's book as a file.
import { run } from "./load.mjs";

await run("book");
