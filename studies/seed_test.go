package studies

import _ "lanesim/internal/seed" // the same draws every run
