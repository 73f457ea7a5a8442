// Package forecast is what a tank's own history says about its next days: each
// nutrient and hardness with its net uptake, the filter's flow, the cylinder.
//
// It is a fold. A State holds means and a covariance of a few numbers; Update
// carries it from one visit to the next by the balance of mass and then lets the
// readings speak with what a kit can mean: a class, a count of drops, nothing
// found. Ahead, Crossing and the other answers start from a State and change
// nothing.
//
// Concentrations are carried as ln(c + c0), so that none becomes negative and an
// error is a share of what is there. The estimate is Gaussian in these terms:
// the balance is propagated by divided differences (M. Nørgaard, N. K. Poulsen
// and O. Ravn (2000), Automatica 36, 1627-1638), a reading by matching the first
// two moments of the exact posterior along the direction that it measures
// (P. S. Maybeck (1982), Stochastic Models, Estimation and Control, volume 2).
package forecast
