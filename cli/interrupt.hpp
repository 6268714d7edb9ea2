// Ctrl-C and the request to end (SIGTERM): the first asks the study under way to stop and keep what is done,
// the second ends the program at once.
#pragma once

namespace lowspot::cli {

// Begins to listen; also lets a closed pipe be an error of writing rather than a sudden end, so that files
// are written whole whoever reads the answer.
void listen_for_stop();
// Whether one of them came.
bool stop_asked();
// Whether whoever read the answer has gone away, as `| head` does.
bool reader_gone();

} // namespace lowspot::cli
