package plots

import _ "lanesim/internal/seed" // the same draws every run
