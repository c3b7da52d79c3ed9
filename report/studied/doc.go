// Package studied reports the results of studies of many shots for players, each a bowler with a ball on a
// lane: lines to the pocket, the scatter of deliveries, sessions on a wearing lane, bags of balls, strikes
// and spares, and searches for wanted shots. A report has a study's result with names, and writes it as a
// document, JSON and CSV.
package studied
