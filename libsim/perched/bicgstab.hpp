// Stabilised bi-conjugate gradients (van der Vorst 1992): slopes make the system unsymmetric.
#pragma once
#include <lowspot/perched/multigrid.hpp>
#include <lowspot/perched/stencil.hpp>

namespace lowspot::perched {

// Scratch of bicgstab(), on the framed grid, with the letters of that paper.
struct BicgstabWorkspace {
  Field remainder, shadow, direction;               // r, r0, p
  Field prepared, image, half_prepared, half_image; // y, v, z, t
};

// Memory for systems on this frame.
BicgstabWorkspace make_bicgstab_workspace(const Frame& frame);

// Solves A x = b from x = 0 until the remainder is `reduction` times b (2-norms) or `most` iterations have
// passed. The preconditioner must have been set to A. Returns the number of iterations.
int bicgstab(const Stencil& a, Multigrid& preconditioner, const Field& b, Field& x, double reduction,
             int most, BicgstabWorkspace& work);

} // namespace lowspot::perched
