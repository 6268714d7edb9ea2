// Linear system of the perched zone on the framed grid: five points, columns sum to what a cell retains.
#pragma once
#include <lowspot/base/field.hpp>
#include <lowspot/perched/frame.hpp>

namespace lowspot::perched {

// (A x)[k] = retained[k] x[k] + the sum of flows out of k, where the flow from k to its eastern neighbour is
// east_out[k] x[k] - east_back[k] x[k + 1], and likewise to the north. All entries >= 0; not symmetric on
// slopes.
struct Stencil {
  Frame frame;                                                // where cells and faces lie
  Field retained, east_out, east_back, north_out, north_back; // see above
  Field diagonal, inverse; // filled by complete(); inverse is 0 where the diagonal is
};

// Of the right sizes, all nothing; complete() then fills in what follows from the rest.
Stencil make_stencil(const Frame& frame);
void complete(Stencil& stencil);
// product = A x. Rims hold zeros before and after.
void multiply(const Stencil& stencil, const Field& x, Field& product);
// remainder = b - A x
void subtract_product(const Stencil& stencil, const Field& b, const Field& x, Field& remainder);
// after = before + weight * inverse diagonal * (b - A before): one damped Jacobi sweep.
void jacobi_sweep(const Stencil& stencil, double weight, const Field& b, const Field& before, Field& after);
// x = weight * inverse diagonal * b: the same sweep from zero.
void jacobi_start(const Stencil& stencil, double weight, const Field& b, Field& x);

// Whether what cells pass on is nowhere more than half of what they retain.
bool retention_dominates(const Stencil& stencil);

// Dot product with a fixed order of summation.
double dot(const Field& a, const Field& b);
double largest(const Field& a); // of absolute values; no number where one is none

} // namespace lowspot::perched
