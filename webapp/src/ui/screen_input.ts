// What every screen is given: the named parts of its address and what stands behind the question mark.
export interface ScreenInput { params: Record<string, string>; query: Record<string, string> }
