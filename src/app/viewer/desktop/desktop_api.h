// SPDX-License-Identifier: MIT
// The face of libevenspit_desktop.so, which the viewer opens when the desktop's own dialogue for files is
// asked for. Plain letters and numbers: no exception, and nothing of a C++ library, crosses it.
#pragma once

#include <cstddef>

namespace evenspit::viewer::desktop {

/// Goes up whenever anything in this file changes: a module of another number is not used.
inline constexpr int api_version = 1;

/// The one name that the module exports: a function that takes nothing and returns its `Functions`.
inline constexpr const char* entry_name = "evenspit_desktop";

/// What a dialogue asks for. All letters are UTF-8 and end with a zero.
struct Question {
    bool saves;                   ///< else a file that is there is chosen
    const char* title;            ///< of the dialogue
    const char* folder;           ///< that it begins in; "" for any
    const char* name;             ///< that is offered for what is saved; "" for none
    const char* kind;             ///< what the files are called; "" for all files
    const char* const* patterns;  ///< of their names: "*.toml"
    std::size_t pattern_count;
};

/// Who is asked now and then whether the dialogue shall stay.
struct Asked {
    bool (*go_on)(void* who);
    void* who;
};

enum class Outcome {
    chosen,
    called_off,
    none  ///< this desktop has no such dialogue
};

struct Functions {
    int version;  ///< first in every version

    /// Whether the desktop has a dialogue for files.
    bool (*has_dialogue)();
    /// Opens it and waits for what is chosen.
    ///
    /// \param chosen takes the file's path, with a zero at its end
    Outcome (*choose_file)(const Question* question, const Asked* asked, char* chosen, std::size_t size);
};

}  // namespace evenspit::viewer::desktop
