package sweep

import _ "lanesim/internal/seed" // the same draws every run
