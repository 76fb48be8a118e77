mod gcode;
mod good;
mod sample;
mod spoilt;
