// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "body/shape.h"
#include "files/kept_files.h"

namespace evenspit::body {

/// make_shape(), or what it made of the same options in an earlier run, to the last bit.
///
/// \param kept where shapes are kept from run to run; null: nowhere. Not owned.
/// \throws as make_shape()
Body kept_shape(const ShapeOptions& options, const KeptFiles* kept);

/// Tells options apart, and programs whose shapes may differ: a digest of their sources is part of it.
std::string shape_key(const ShapeOptions& options);

/// All of a body, for this program on this machine alone.
std::string body_bytes(const Body& body);

/// The body that body_bytes() was given, to the last bit; nothing for bytes that are of none: cut off, with
/// something behind them, or with triangles, parents or regions that are not there.
std::optional<Body> body_from_bytes(std::string_view bytes);

}  // namespace evenspit::body
