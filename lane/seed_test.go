package lane

import _ "lanesim/internal/seed" // the same draws every run
