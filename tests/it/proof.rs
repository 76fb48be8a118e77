mod gcode;
mod good;
mod held_down;
mod hostile;
mod rim;
mod sample;
mod scale;
mod spoilt;
