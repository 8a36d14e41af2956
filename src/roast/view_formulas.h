// SPDX-License-Identifier: MIT
// View factors that have a closed form: the share of what leaves the first surface, evenly in all directions
// of a half space by Lambert's cosine, that falls on the second. All in 0 … 1.
//
// J. R. Howell, "A Catalog of Radiation Heat Transfer Configuration Factors"; the names of its entries where
// they are known. Lengths enter as ratios, so that any unit will do.
#pragma once

namespace evenspit {

/// A small plane element to a rectangle parallel to it, one corner of which lies straight above it.
///
/// \param x, y sides of the rectangle over its distance, ≥ 0 (B-3)
double view_to_parallel_rectangle(double x, double y);

/// A small plane element to a rectangle at right angles to it. The rectangle stands on the element's plane;
/// the foot of one of its upright edges is the point of it nearest to the element.
///
/// \param x its width, along the element's plane, over its distance from the element, ≥ 0
/// \param y its height over that distance, ≥ 0 (B-4)
double view_to_upright_rectangle(double x, double y);

/// A small plane element to a disc, the middle of which lies straight above it where it is not tilted.
///
/// \param radius of the disc over its distance, ≥ 0
/// \param tilt_rad of the element against the line to the disc's middle; the element sees the whole disc
double view_to_disc(double radius, double tilt_rad = 0);

/// A small plane element to an endless plane, from which its normal is turned by `tilt_rad`: 0 looks
/// straight at it, π away from it. The mean over a whole turn is one half.
double view_to_plane(double tilt_rad);

/// One rectangle to another of the same size straight opposite.
///
/// \param x, y sides over the distance between them, > 0 (C-11)
double view_between_rectangles(double x, double y);

/// A disc to another on the same axis.
///
/// \param first, second radii over the distance between them, > 0 (C-41)
double view_between_discs(double first, double second);

/// A sphere to a rectangle, one corner of which is the point of its plane nearest to the sphere's middle.
///
/// \param x, y sides over the distance of the plane from the sphere's middle, ≥ 0. The sphere's size does
/// not matter as long as it stays clear of the plane.
double view_from_sphere_to_rectangle(double x, double y);

/// An endless cylinder to an endless strip beside it, parallel to its axis.
///
/// \param from, to where the strip begins and ends, measured from the foot of the perpendicular from the
/// axis, over the distance of the strip's plane from the axis. The cylinder stays clear of the plane.
double view_from_cylinder_to_strip(double from, double to);

}  // namespace evenspit
