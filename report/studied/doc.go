// Package studied reports what studies of many shots find for players, each a bowler with
// a ball on a lane: lines to the pocket, the scatter of deliveries, sessions on a wearing
// lane, bags of balls, strikes and spares, and what is sought. A report holds a study's
// result with the names of what it is of, and writes it as a document, JSON and CSV.
package studied
