package oilring_test

import _ "lanesim/internal/seed" // the same draws every run
