// Starts the app: draws the first screen into the page.
import { render } from "preact";

render(<main><h1>Barnlight</h1></main>, document.getElementById("app")!);
