mod gcode;
mod good;
mod hostile;
mod rim;
mod sample;
mod scale;
mod spoilt;
